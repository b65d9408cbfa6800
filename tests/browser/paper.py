"""A page on paper: what can be read on its sheets, whatever typeface they were printed in."""

import io
import unicodedata
from typing import Any

from playwright.sync_api import Page
from pypdf import PdfReader


def printed_sheets(page: Page, **options: Any) -> list[str]:
    """Print a page on A4; return the plain text of each sheet."""
    paper = PdfReader(io.BytesIO(page.pdf(format="A4", **options)))
    return [plain(sheet.extract_text()) for sheet in paper.pages]


def plain(text: str) -> str:
    """Return a text in plain letters: a typeface may print "ffi" as one sign."""
    return unicodedata.normalize("NFKC", text)
