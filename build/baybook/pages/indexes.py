"""Indexes of a book: by code, symptom, part, tool, system and vehicle."""

from collections.abc import Callable, Iterable

from baybook.book.car import CarProcedure
from baybook.book.codes import title as code_title
from baybook.book.source_model import SYSTEMS
from baybook.book.sources.load import Book, ProcedureSource
from baybook.pages.render import html
from baybook.pages.site import Page, href, procedure_uri, vehicle_uri

Entry = tuple[str, str]
"""Heading of an entry, and its address."""


def index_pages(book: Book) -> list[Page]:
    """Return the indexes, each a page with its entries in order."""
    return [
        _page(book, "codes", "By code", _codes, code_title),
        _page(book, "symptoms", "By complaint", _symptoms),
        _page(book, "parts", "By part", _parts),
        _page(book, "tools", "By tool", _tools),
        _page(book, "systems", "By system", _systems),
        _vehicles(book),
    ]


def _codes(source: ProcedureSource) -> Iterable[str]:
    return source.data.codes


def _symptoms(source: ProcedureSource) -> Iterable[str]:
    return source.data.complaint_texts()


def _parts(source: ProcedureSource) -> Iterable[str]:
    return [part.name for part in source.data.parts.values()]


def _tools(source: ProcedureSource) -> Iterable[str]:
    return [tool.name for tool in source.data.tools.values()]


def _systems(source: ProcedureSource) -> Iterable[str]:
    return [SYSTEMS[source.data.system]]


def _page(
    book: Book,
    name: str,
    title: str,
    keys: Callable[[ProcedureSource], Iterable[str]],
    about: Callable[[str], str] = lambda _: "",
) -> Page:
    uri = f"indexes/{name}.md"
    found: dict[str, list[dict[str, object]]] = {}
    for source in book.procedures.values():
        for key in dict.fromkeys(keys(source)):
            code = key if name == "codes" else ""
            found.setdefault(key, []).append(_links(source, uri, code, book))
    entries = [
        {"key": key, "about": about(key), "procedures": found[key]}
        for key in sorted(found, key=str.casefold)
    ]
    return Page(
        uri,
        title,
        html("index.html.j2", title=title, entries=entries),
        ("Indexes",),
        contents=False,
    )


def _links(source: ProcedureSource, page: str, code: str, book: Book) -> dict[str, object]:
    """Return a procedure's links from an index: its front page, and each car with the code."""
    query = f"?code={code}" if code else ""
    return {
        "title": source.data.title,
        "uri": href(procedure_uri(source.id), page),
        "cars": [
            (car.data.name, href(procedure_uri(source.id, car.id), page) + query)
            for car in book.matches(source)
            if not code or code in CarProcedure(source, car).codes
        ],
    }


def _vehicles(book: Book) -> Page:
    uri = "indexes/vehicles.md"
    entries = [
        {
            "key": vehicle.data.name,
            "about": vehicle.data.engine,
            "procedures": [
                {
                    "title": source.data.title,
                    "uri": href(procedure_uri(source.id, vehicle.id), uri),
                    "cars": [],
                }
                for source in book.procedures.values()
                if vehicle in book.matches(source)
            ],
            "uri": href(vehicle_uri(vehicle.id), uri),
        }
        for vehicle in book.vehicles.values()
    ]
    text = html("index.html.j2", title="By vehicle", entries=entries)
    return Page(uri, "By vehicle", text, ("Indexes",), contents=False)
