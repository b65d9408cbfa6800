"""The page of what others made: it stands in every book, whatever its publisher leaves out."""

from collections.abc import Iterable
from typing import Protocol

from baybook.pages.render import environment
from baybook.pages.site import LICENCES_URI, Page

BILL = "bill-of-materials.cdx.json"
"""Name of the bill of materials, beside the page."""


class Carried(Protocol):
    """One thing that others made and the book carries, as the runtime tells it."""

    @property
    def name(self) -> str:
        """Its name."""

    @property
    def version(self) -> str:
        """Its version."""

    @property
    def licence(self) -> str:
        """Its licence, by the identifier of SPDX."""

    @property
    def purpose(self) -> str:
        """What the book has it for."""

    @property
    def integrity(self) -> str:
        """Hash of the package that it came in."""

    @property
    def text(self) -> str:
        """Text of its licence."""

    @property
    def source(self) -> str:
        """Where its source is to be had, where it is carried compiled."""


def licences_page(carried: Iterable[Carried]) -> Page:
    """Return the page of what the book carries, with the texts of the licences."""
    template = environment().get_template("licences.md.j2")
    markdown = template.render(carried=list(carried), bill=BILL)
    return Page(LICENCES_URI, "What the book carries", markdown, search=False)
