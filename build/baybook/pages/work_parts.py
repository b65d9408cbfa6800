"""What fills the cards and the dock of the working view: once a book, for every page the same."""

from baybook.pages.render import html, taken
from baybook.pages.site import SHEETS_URI, href


def work_parts() -> str:
    """Return the script that hands the templates of the cards and the dock to a page."""
    sheets = href(SHEETS_URI, "index.md")
    parts = {
        part: html("work_parts.html.j2", part=part, sheets=sheets) for part in ("cards", "dock")
    }
    return taken("work", parts)
