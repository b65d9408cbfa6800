"""The landing page of the procedures, and the crumbs that lead up from a page."""

from markupsafe import Markup

from baybook.book.sources.load import Book
from baybook.pages.finder import procedures_by_system
from baybook.pages.render import html
from baybook.pages.site import LANDINGS, PROCEDURES_URI, Page, href


def procedures_page(book: Book) -> Page:
    """Return the page of all procedures, by system."""
    text = html("procedures.html.j2", systems=procedures_by_system(book, PROCEDURES_URI))
    return Page(PROCEDURES_URI, "Procedures", text, ("Procedures",), contents=False)


def with_crumbs(page: Page) -> Page:
    """Return a page of HTML with the way up from it; a landing page stands on top itself."""
    landing = LANDINGS.get(page.trail[0]) if page.trail else None
    if page.html is None or landing is None or landing == page.uri:
        return page
    crumbs = [(page.trail[0], href(landing, page.uri))]
    if page.up:
        crumbs.append((page.trail[1], href(page.up, page.uri)))
    here = page.here or page.title
    return page.with_text(
        html("crumbs.html.j2", crumbs=crumbs, here=here) + Markup("\n") + page.html
    )
