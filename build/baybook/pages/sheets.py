"""The page of the bench sheets; all of it is drawn in the browser."""

from baybook.pages.render import environment
from baybook.pages.site import SHEETS_URI, Page


def sheets_page() -> Page:
    """Return the page on which bench sheets are opened, saved, loaded and printed."""
    markdown = environment().get_template("sheets.md.j2").render()
    return Page(SHEETS_URI, "Bench sheets", markdown, ("Bench sheets",), contents=False)
