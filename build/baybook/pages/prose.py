"""An author's Markdown as HTML; everything else on a page is HTML from the start."""

import functools
import re
from collections.abc import Mapping
from typing import Any

import markdown
from markupsafe import Markup

from baybook.pages.harmless import harmless

EXTENSIONS = ("admonition", "attr_list", "def_list", "fenced_code", "md_in_html", "tables")
"""What an author can write beyond plain Markdown."""

_MARKDOWN_LINK = re.compile(r'(<a [^>]*href="(?![a-z]+:)[^"#?]*)\.md(?=["#?])')


class Prose:
    """Writes Markdown as HTML, each text once."""

    def __init__(
        self,
        extensions: tuple[str, ...] = EXTENSIONS,
        settings: Mapping[str, Mapping[str, Any]] | None = None,
        safe: bool = False,
    ) -> None:
        self._safe = safe
        self._markdown = markdown.Markdown(
            extensions=[*extensions], extension_configs={**(settings or {})}
        )
        self._known: dict[str, Markup] = {}

    def write(self, text: str) -> Markup:
        """Return a text as HTML; links to Markdown files lead to their pages."""
        if text not in self._known:
            written = self._markdown.reset().convert(text)
            leading = _MARKDOWN_LINK.sub(r"\1.html", written)
            self._known[text] = Markup(harmless(leading) if self._safe else leading)
        return self._known[text]


@functools.cache
def plain_prose() -> Prose:
    """Return the prose of a book without settings of its own."""
    return Prose()


@functools.cache
def safe_prose() -> Prose:
    """Return the prose of a book with contributors: nothing in it is live."""
    return Prose(safe=True)
