"""The navigation of a book: the landing pages, and what an author wrote."""

from typing import Any

from baybook.pages.site import LANDINGS, SHEETS_URI, Page

_AUTHORS = "For authors"


def navigation(pages: list[Page], written: list[str]) -> list[Any]:
    """Return the ``nav`` of MkDocs: home, the landing pages, then the author's other pages.

    Pages below a landing page are reached from there; only the part for authors is listed whole.

    Parameters
    ----------
    pages : list[Page]
        Generated pages.
    written : list[str]
        Addresses of the pages below ``docs``.
    """
    there = {page.uri for page in pages}
    tree: list[Any] = [{"Home": "index.md"}] if "index.md" in written else []
    landings = LANDINGS | {"Bench sheets": SHEETS_URI}
    tree += [{title: uri} for title, uri in landings.items() if uri in there]
    below = [page for page in pages if page.trail[:1] == (_AUTHORS,)]
    own = [uri for uri in written if uri.startswith("authors/")]
    if below or own:
        tree.append({_AUTHORS: [*_listed(below), *own]})
    return tree + [uri for uri in written if uri != "index.md" and not uri.startswith("authors/")]


PLACE = "baybook"
"""Stands in a ``nav`` of one's own for the landing pages."""


def expanded(nav: list[Any] | None, pages: list[Page]) -> list[Any]:
    """Return a ``nav`` of one's own with the landing pages in the place of ``baybook``."""
    found: list[Any] = []
    for item in nav or []:
        if item == PLACE:
            found += navigation(pages, [])
        elif isinstance(item, dict):
            found.append(
                {
                    title: expanded(inner, pages) if isinstance(inner, list) else inner
                    for title, inner in item.items()
                }
            )
        else:
            found.append(item)
    return found


def _listed(pages: list[Page]) -> list[Any]:
    """Return pages with those of one trail below its name."""
    found: list[Any] = []
    sections: dict[tuple[str, ...], list[Any]] = {}
    for page in pages:
        target = found
        if len(page.trail) > 1:
            if page.trail not in sections:
                sections[page.trail] = []
                found.append({page.trail[1]: sections[page.trail]})
            target = sections[page.trail]
        target.append(page.uri if page.uri.endswith("index.md") else {page.title: page.uri})
    return found


def in_navigation(page: Page) -> bool:
    """Tell whether a generated page is listed in the navigation."""
    return page.uri in {*LANDINGS.values(), SHEETS_URI} or page.trail[:1] == (_AUTHORS,)
