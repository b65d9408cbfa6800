"""The part of a book that is for its authors."""

from dataclasses import replace
from pathlib import Path

from baybook.book.compiled import CompiledBook
from baybook.book.mistakes import Mistake, mistakes
from baybook.pages.authors.field_pages import field_pages
from baybook.pages.authors.figures_page import figure_pages
from baybook.pages.authors.nomenclature_page import nomenclature_page
from baybook.pages.render import environment
from baybook.pages.site import Page, Settings

GUIDES = Path(__file__).parents[2] / "guides"
"""What is written by hand for authors; it travels with the program, for an author needs it all."""

_BOOST = 0.1
"""Who searches in the bay finds procedures first."""

_TRAIL = ("For authors",)
_ORDER = (
    "ten-minutes",
    "style",
    "text",
    "editors",
    "publishing",
    "learning",
    "exercises",
    "changes",
)
_INDEX = "authors/index.md"


def authors_pages(book: CompiledBook, settings: Settings) -> list[Page]:
    """Return the pages for authors, where the publisher wants them."""
    if not settings.for_authors:
        return []
    pages = [
        *_guides(),
        *field_pages(book.sources),
        _mistakes_page(),
        *figure_pages(book, settings),
        nomenclature_page(),
    ]
    return [replace(page, boost=_BOOST) for page in (_index_page(pages), *pages)]


def _guides() -> list[Page]:
    texts = [(name, (GUIDES / f"{name}.md").read_text("utf-8")) for name in _ORDER]
    return [
        Page(f"authors/{name}.md", text.splitlines()[0].removeprefix("# "), text, _TRAIL)
        for name, text in texts
    ]


def _mistakes_page() -> Page:
    subjects: dict[str, list[Mistake]] = {}
    for mistake in mistakes():
        subjects.setdefault(mistake.subject, []).append(mistake)
    markdown = environment().get_template("authors_mistakes.md.j2").render(subjects=subjects)
    return Page("authors/mistakes.md", "Mistakes", markdown, _TRAIL)


def _index_page(pages: list[Page]) -> Page:
    shown = [page for page in pages if page.trail == _TRAIL or page.uri.endswith("index.md")]
    markdown = environment().get_template("authors_index.md.j2").render(pages=shown)
    return Page(_INDEX, "For authors", markdown, _TRAIL, contents=False)
