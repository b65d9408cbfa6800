"""What the field on every page finds: entries in shards, other words for them, codes."""

import html
import re
from collections.abc import Iterator, Mapping, Sequence
from importlib.resources import files
from typing import Any

import yaml

from baybook.book.code_systems import no_way, treated
from baybook.book.codes import TITLES, shape
from baybook.book.compiled import CompiledBook
from baybook.book.source_faults import Fault
from baybook.pages.render import taken
from baybook.pages.site import MY_CAR_URI, SHEETS_URI, Page, calculator_uri, vehicle_uri
from baycalc import api

Entry = dict[str, Any]
"""One thing that is found. `k` its kind; `t` what it is called; `b` what is said of it; `w` other
words; `p` its procedure and `h` its place there, or `to` its address."""

SMALL = [
    "a",
    "an",
    "and",
    "are",
    "as",
    "at",
    "be",
    "but",
    "by",
    "can",
    "car",
    "do",
    "does",
    "for",
    "from",
    "get",
    "gets",
    "has",
    "have",
    "how",
    "i",
    "if",
    "in",
    "is",
    "it",
    "its",
    "me",
    "much",
    "my",
    "no",
    "not",
    "of",
    "off",
    "on",
    "one",
    "or",
    "out",
    "s",
    "so",
    "some",
    "t",
    "that",
    "the",
    "then",
    "there",
    "this",
    "to",
    "too",
    "under",
    "up",
    "was",
    "what",
    "when",
    "where",
    "which",
    "why",
    "will",
    "with",
    "you",
    "your",
]
"""Words that tell nothing."""

_TEXT_SHARD = 400_000
"""Letters of text in one shard of the full text."""

_NO_TEXT_OF = ("procedures/", "vehicles/", "indexes/")
"""Pages whose entries are found already: front pages, figures of cars, indexes."""

_SECTION = re.compile(r'<h[23] id="([^"]+)">(.*?)</h[23]>', re.DOTALL)
_NO_TEXT = re.compile(
    r"<(script|svg|details class=\"(?:embed|bay|plan-whole|diagram-text)|select|button|nav)\b.*?"
    r"</(?:script|svg|details|select|button|nav)>",
    re.DOTALL,
)
_TAG = re.compile(r"<[^>]+>")


def search_files(book: CompiledBook, pages: Sequence[Page]) -> dict[str, str]:
    """Return the files that the field reads when somebody types: text by address."""
    first = {"name": "first", "entries": [*_first(book, pages)], **_tables(book)}
    parts = {"name": "parts", "entries": [*_parts(book)]}
    procedures = book.sources.procedures.values()
    near = treated((source.data.title, source.data.codes) for source in procedures)
    titles = {code: no_way(code, near) for code in TITLES}
    shards = [
        first,
        parts,
        {"name": "codes", "titles": titles, "shapes": _shapes()},
    ]
    texts = _text_shards(pages)
    first["texts"] = len(texts)
    shards += [{"name": f"text-{at}", "entries": text} for at, text in enumerate(texts)]
    return {f"assets/search/{each['name']}.js": taken("search", each) for each in shards}


def _first(book: CompiledBook, pages: Sequence[Page]) -> Iterator[Entry]:
    for name, source in book.sources.procedures.items():
        data = source.data
        about = f"{source.system}. {data.summary}"
        yield {"k": "procedure", "t": data.title, "b": about, "p": name}
        for complaint in data.complaint_texts():
            yield {"k": "complaint", "t": complaint, "p": name}
        titles = dict.fromkeys(filter(None, map(source.code_title, data.codes)))
        yield {"k": "codes", "t": "; ".join(titles), "p": name}
    for name in api.names():
        declared = api.describe(name)
        yield {
            "k": "calculator",
            "t": declared.title,
            "b": declared.summary,
            "w": ", ".join(declared.words),
            "to": _html(calculator_uri(name)),
        }
    for name, vehicle in book.sources.vehicles.items():
        to = _html(vehicle_uri(name))
        yield {"k": "car", "t": vehicle.data.name, "b": vehicle.data.engine, "to": to, "car": name}
    yield {
        "k": "page",
        "t": "Bench sheets",
        "b": "The record of each job.",
        "to": _html(SHEETS_URI),
    }
    yield {"k": "page", "t": "My car is not here", "w": "own car", "to": _html(MY_CAR_URI)}
    for page in pages:
        if page.trail[:1] in (("Indexes",), ("For authors",)):
            yield {"k": "page", "t": page.title, "b": page.trail[0], "to": _html(page.uri)}


def _parts(book: CompiledBook) -> Iterator[Entry]:
    for name, source in book.sources.procedures.items():
        data = source.data
        parts = dict.fromkeys(part.name for part in data.parts.values())
        for part in parts:
            yield {"k": "part", "t": part, "p": name}
        faults = dict.fromkeys(
            (f"{data.parts[fault.part].name} {fault.says}", fault.repair.section)
            for fault in data.faults.values()
        )
        for says, section in faults:
            yield {"k": "fault", "t": says, "p": name, "h": section}
        for test, what in data.tests.items():
            tools = ", ".join(data.tools[tool].name for tool in what.tools)
            yield {"k": "test", "t": what.title, "b": tools, "p": name, "h": test}
        for tool in dict.fromkeys(tool.name for tool in data.tools.values()):
            yield {"k": "tool", "t": tool, "p": name}


def _tables(book: CompiledBook) -> dict[str, Any]:
    codes: dict[str, list[tuple[float, str]]] = {}
    groups: dict[str, list[str]] = {}
    titles: dict[str, str] = {}
    for name, source in book.sources.procedures.items():
        for code in source.data.codes:
            titles[code] = source.code_title(code)
            codes.setdefault(code, []).append((_weight(source.data.faults, code), name))
            groups.setdefault(code[0] + code[2], []).append(name)
    first = {variant.source.id: variant.name for variant in reversed(book.variants)}
    return {
        "codes": {
            code: {"title": titles[code], "p": [name for _, name in sorted(found)[::-1]]}
            for code, found in codes.items()
        },
        "groups": {group: [*dict.fromkeys(found)] for group, found in groups.items()},
        "procedures": {
            name: {"title": source.data.title, "system": source.system}
            | ({"page": first[name]} if name in first else {})
            for name, source in book.sources.procedures.items()
        },
        "words": _other_words(book),
        "small": SMALL,
    }


def _weight(faults: Mapping[str, Fault], code: str) -> float:
    """Return the share of a procedure's cars that store a code: it stands first where most do."""
    whole = sum(fault.often for fault in faults.values())
    return sum(fault.often * fault.sets.get(code, 0.0) for fault in faults.values()) / whole


def _other_words(book: CompiledBook) -> dict[str, list[str]]:
    """Return the words that people type, with those of the book; a book's own come first."""
    text = files("baybook.book").joinpath("common_words.yml").read_text(encoding="utf-8")
    common: dict[str, list[str]] = yaml.safe_load(text)
    own = {word: [*others] for word, others in book.sources.shared.words.items()}
    return {word.lower(): others for word, others in (common | own).items()}


def _shapes() -> dict[str, Any]:
    """Return what the first three signs of any code say, each sentence once."""
    sentences: dict[str, int] = {}
    prefixes = {}
    for letter in "PBCU":
        for owner in "0123":
            for group in "0123456789ABCDEF":
                prefix = letter + owner + group
                said = shape(f"{prefix}00").removeprefix(f"{prefix}00 ")
                prefixes[prefix] = sentences.setdefault(said, len(sentences))
    return {"prefixes": prefixes, "sentences": list(sentences)}


def _text_shards(pages: Sequence[Page]) -> list[list[Entry]]:
    """Return the sections of the pages with their text, each procedure once."""
    seen: set[str] = set()
    shards: list[list[Entry]] = [[]]
    size = 0
    for page in pages:
        procedure = page.uri.split("/")[1] if page.asks else ""
        if page.html is None or (page.uri.startswith(_NO_TEXT_OF) and not procedure):
            continue
        if procedure in seen:
            continue
        seen |= {procedure} - {""}
        where = {"p": procedure} if procedure else {"to": _html(page.uri)}
        for place, title, text in _sections(str(page.html)):
            size += len(text)
            if size > _TEXT_SHARD:
                shards.append([])
                size = len(text)
            entry = {"k": "text", "t": title, "b": text, "of": page.title, "h": place}
            shards[-1].append(entry | where)
    return shards


def _sections(text: str) -> Iterator[tuple[str, str, str]]:
    """Give the sections of a page: place, title and text."""
    found = list(_SECTION.finditer(text))
    for at, heading in enumerate(found):
        end = found[at + 1].start() if at + 1 < len(found) else len(text)
        plain = _TAG.sub(" ", _NO_TEXT.sub(" ", text[heading.end() : end]))
        words = " ".join(html.unescape(plain).split())
        title = html.unescape(_TAG.sub("", heading[2])).removesuffix("¶")
        if words:
            yield heading[1], title, words


def _html(uri: str) -> str:
    return uri.replace(".md", ".html")
