"""Indexes of a book: by code, complaint, part, tool and system, in order and by letters."""

from collections.abc import Callable, Iterable
from itertools import groupby
from typing import Any

from baybook.book.code_systems import no_way, treated
from baybook.book.codes import TITLES
from baybook.book.sources.load import Book, ProcedureSource
from baybook.pages.render import html
from baybook.pages.site import INDEXES_URI, Page, href, procedure_uri

_LETTERS_OF_CODE = 3
"""Signs of a code by which codes stand together: `P04`."""


def index_pages(book: Book) -> list[Page]:
    """Return the page of all indexes, and the indexes."""
    pages = [
        _page(book, "codes", "By code", _codes, book.code_title),
        _page(book, "symptoms", "By complaint", _symptoms),
        _page(book, "parts", "By part", _parts),
        _page(book, "tools", "By tool", _tools),
        _page(book, "systems", "By system", _systems),
    ]
    links = [(page.title, href(page.uri, INDEXES_URI)) for page in pages]
    landing = html("indexes.html.j2", links=links)
    return [Page(INDEXES_URI, "Indexes", landing, ("Indexes",), contents=False), *pages]


def _codes(source: ProcedureSource) -> Iterable[str]:
    return source.data.codes


def _symptoms(source: ProcedureSource) -> Iterable[str]:
    return source.data.complaint_texts()


def _parts(source: ProcedureSource) -> Iterable[str]:
    return [part.name for part in source.data.parts.values()]


def _tools(source: ProcedureSource) -> Iterable[str]:
    return [tool.name for tool in source.data.tools.values()]


def _systems(source: ProcedureSource) -> Iterable[str]:
    return [source.system]


def _page(
    book: Book,
    name: str,
    title: str,
    keys: Callable[[ProcedureSource], Iterable[str]],
    about: Callable[[str], str] = lambda _: "",
) -> Page:
    uri = f"indexes/{name}.md"
    found: dict[str, list[dict[str, str]]] = {}
    for source in book.procedures.values():
        for key in dict.fromkeys(keys(source)):
            query = f"?code={key}" if name == "codes" else ""
            address = href(procedure_uri(source.id), uri) + query
            link = {"id": source.id, "title": source.data.title, "href": address}
            found.setdefault(key, []).append(link)
    entries = [
        {"key": key, "about": about(key), "procedures": found[key]}
        for key in sorted(found, key=str.casefold)
    ]
    if name == "codes":
        procedures = book.procedures.values()
        near = treated((source.data.title, source.data.codes) for source in procedures)
        entries += [
            {"key": code, "about": no_way(code, near), "procedures": []}
            for code in TITLES
            if code not in found
        ]
        entries.sort(key=lambda entry: str(entry["key"]))
    groups = _groups(entries, _LETTERS_OF_CODE if name == "codes" else 1)
    text = html("index.html.j2", title=title, groups=groups)
    return Page(uri, title, text, ("Indexes", title), contents=False)


def _groups(entries: list[dict[str, Any]], signs: int) -> list[dict[str, Any]]:
    """Put entries that begin alike together, each group with a name for its address."""
    return [
        {"name": begin, "id": f"begins-{begin.lower()}", "entries": list(group)}
        for begin, group in groupby(entries, lambda entry: str(entry["key"])[:signs].upper())
    ]
