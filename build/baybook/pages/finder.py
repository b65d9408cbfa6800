"""The field of the home page: finds codes, symptoms, parts, systems, calculators while typing."""

import json
from typing import Any

from baybook.book.code_systems import no_way
from baybook.book.codes import TITLES
from baybook.book.sources.load import Book
from baybook.pages.render import html
from baybook.pages.site import CODES_URI, calculator_uri, href, procedure_uri, vehicle_uri
from baycalc import api

MARK = "<!-- finder -->"
"""Where an author wants the field: a line of its own."""


def insert_finder(written: str, book: Book, page: str) -> str:
    """Put the field, with all that it finds, where the mark stands on a page of HTML."""
    if MARK not in written:
        return written
    entries = [entry | {"to": href(entry["to"], page)} for entry in find_entries(book)]
    text = json.dumps(entries, ensure_ascii=False).replace("<", "\\u003c")
    field = html("finder.html.j2", entries=text, systems=_by_system(book, page))
    return written.replace(MARK, field, 1)


def _by_system(book: Book, page: str) -> list[tuple[str, list[tuple[str, str]]]]:
    """Return the procedures of each system, for those who look around."""
    found: dict[str, list[tuple[str, str]]] = {}
    for name, source in book.procedures.items():
        entry = (source.data.title, href(procedure_uri(name), page))
        found.setdefault(source.system, []).append(entry)
    return sorted(found.items())


def find_entries(book: Book) -> list[dict[str, Any]]:
    """Return everything that the field finds: kind, text, what is behind it, and its address."""
    entries: dict[tuple[str, str, str], dict[str, Any]] = {}

    def add(kind: str, text: str, about: str, to: str, words: str = "", **more: bool) -> None:
        key = (kind, text.lower(), to)
        entries.setdefault(
            key, {"kind": kind, "text": text, "about": about, "to": to, "words": words} | more
        )

    for name, source in book.procedures.items():
        data, to = source.data, procedure_uri(name)
        add("procedure", data.title, source.system, to, data.summary)
        for code in data.codes:
            add("code", code, f"{source.code_title(code)}: {data.title}", f"{to}?code={code}")
        for symptom in data.complaint_texts():
            add("complaint", symptom, data.title, to)
        for part in data.parts.values():
            add("part", part.name, data.title, to)
    led = {code for source in book.procedures.values() for code in source.data.codes}
    for code in TITLES:
        if code not in led:
            to = f"{CODES_URI}#begins-{code[:3].lower()}"
            add("code", code, no_way(code), to, leads=False)
    for name in api.names():
        declared = api.describe(name)
        to = calculator_uri(name)
        add("calculator", declared.title, declared.summary, to, " ".join(declared.words))
    for name, vehicle in book.vehicles.items():
        add("car", vehicle.data.name, vehicle.data.engine, vehicle_uri(name))
    return list(entries.values())
