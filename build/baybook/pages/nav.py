"""The navigation of a book, from the pages that were generated and those written by hand."""

from typing import Any

from baybook.pages.site import Page

_ORDER = ("Procedures", "Calculators", "Vehicles", "Indexes", "Bench sheets", "For authors")


def navigation(pages: list[Page], written: list[str]) -> list[Any]:
    """Return the ``nav`` of MkDocs: home, the generated parts, then the author's other pages.

    Parameters
    ----------
    pages : list[Page]
        Generated pages.
    written : list[str]
        Addresses of the pages below ``docs``.
    """
    tree: list[Any] = [{"Home": "index.md"}] if "index.md" in written else []
    parts: dict[str, list[Any]] = {name: [] for name in _ORDER}
    sections: dict[tuple[str, ...], list[Any]] = {}
    for page in pages:
        part = parts[page.trail[0]]
        target = part
        if len(page.trail) > 1:
            if page.trail not in sections:
                sections[page.trail] = []
                part.append({page.trail[1]: sections[page.trail]})
            target = sections[page.trail]
        target.append(page.uri if page.uri.endswith("index.md") else {page.title: page.uri})
    parts["For authors"] += [uri for uri in written if uri.startswith("authors/")]
    tree += [{name: entries} for name, entries in parts.items() if entries]
    return tree + [uri for uri in written if uri != "index.md" and not uri.startswith("authors/")]
