"""Pages written by hand: the words in braces that make sense there, and mistakes shown above."""

import re

from markupsafe import Markup

from baybook.book.pint_quantities import kinds_of
from baybook.book.sources.load import Book
from baybook.pages.render import html, pair_html
from baybook.pages.site import calculator_uri, href, procedure_uri
from baycalc import api

_WORD = re.compile(r"\{\{\s*(\w+)\(\s*\"([^\"]*)\"\s*\)\s*\}\}")


def own_page(text: str, book: Book, page: str) -> tuple[str, list[tuple[int, str]]]:
    """Fill in the quantities and links of a page; return what is not known, with its line.

    Parameters
    ----------
    text : str
        Markdown of a page below ``docs``.
    book : Book
        The sources.
    page : str
        Address of the page.
    """
    written: list[str] = []
    unknown: list[tuple[int, str]] = []
    fence = ""
    for number, line in enumerate(text.split("\n"), 1):
        mark = line.strip()[:3]
        if mark in ("```", "~~~") and fence in ("", mark):
            fence = "" if fence else mark
        elif not fence and "{{" in line:
            unknown += [
                (number, found[0])
                for found in _WORD.finditer(line)
                if _word(found[1], found[2], book, page) is None
            ]
            line = _WORD.sub(lambda found: _word(found[1], found[2], book, page) or found[0], line)
        written.append(line)
    return "\n".join(written), unknown


def _word(name: str, text: str, book: Book, page: str) -> str | None:
    if name == "quantity" and kinds_of(text):
        return str(pair_html(text))
    if name == "procedure" and text in book.procedures:
        return _link(href(procedure_uri(text), page), book.procedures[text].data.title)
    if name == "calculator" and text in api.names():
        return _link(href(calculator_uri(text), page), api.describe(text).title)
    return None


def _link(address: str, title: str) -> str:
    return str(Markup('<a href="{}">{}</a>').format(address, title))


def with_mistakes(page: str, mistakes: str) -> str:
    """Put the mistakes of the sources above a page."""
    banner = html("mistakes.html.j2", mistakes=mistakes)
    return re.sub(r"(<body[^>]*>)", lambda found: f"{found[1]}{banner}", page, count=1)
