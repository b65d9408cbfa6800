"""The page of what others made: it stands in every book, whatever its publisher leaves out."""

from collections.abc import Iterable

from baybook.carried import Carried
from baybook.pages.render import environment
from baybook.pages.site import LICENCES_URI, Page

BILL = "bill-of-materials.cdx.json"
"""Name of the bill of materials, beside the page."""


def licences_page(carried: Iterable[Carried]) -> Page:
    """Return the page of what the book carries, with the texts of the licences."""
    template = environment().get_template("licences.md.j2")
    markdown = template.render(carried=list(carried), bill=BILL)
    return Page(LICENCES_URI, "What the book carries", markdown, search=False)
