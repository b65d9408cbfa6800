"""The page of the bench sheets; all of it is drawn in the browser."""

from baybook.pages.render import html
from baybook.pages.site import SHEETS_URI, Page


def sheets_page() -> Page:
    """Return the page on which bench sheets are opened, saved, loaded and printed."""
    text = html("sheets.html.j2")
    return Page(SHEETS_URI, "Bench sheets", text, ("Bench sheets",), contents=False)
