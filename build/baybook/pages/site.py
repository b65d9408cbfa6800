"""What the pages of a book share: settings, addresses, and a page as it goes to MkDocs."""

import posixpath
from dataclasses import dataclass

from markupsafe import Markup

SHEETS_URI = "bench-sheets.md"
"""Address of the page of the bench sheets."""


@dataclass(frozen=True, slots=True)
class Settings:
    """What the publisher of a book decides."""

    labour_per_hour: float = 60.0
    currency: str = "$"
    for_authors: bool = True


@dataclass(frozen=True, slots=True)
class Page:
    """A generated page: where it goes, its text, and its place in the navigation."""

    uri: str
    title: str
    text: Markup | str
    """HTML, or Markdown where the type is plain text."""
    trail: tuple[str, ...] = ()
    search: bool = True
    contents: bool = True
    wide: bool = False
    """Whether the page takes the room of the navigation and of the contents too."""
    boost: float = 1.0
    """What the page counts among the others that the search finds."""

    @property
    def html(self) -> Markup | None:
        """The text of a page that is HTML from the start."""
        return self.text if isinstance(self.text, Markup) else None

    def source(self) -> str:
        """Return the page as a Markdown file, with the front matter that the theme reads."""
        return self.front_matter() + _without_blank_lines(self.text)

    def front_matter(self) -> str:
        """Return what the theme reads of the page."""
        lines = [f"title: {quoted(self.title)}"]
        if not self.search:
            lines.append("search: {exclude: true}")
        elif self.boost != 1.0:
            lines.append(f"search: {{boost: {self.boost}}}")
        if self.wide:
            lines.append("hide: [navigation, toc]")
        elif not self.contents:
            lines.append("hide: [toc]")
        return "---\n" + "\n".join(lines) + "\n---\n\n"


def _without_blank_lines(text: Markup | str) -> str:
    """Return a text as Markdown leaves it alone: a block of HTML ends at a blank line."""
    if not isinstance(text, Markup):
        return text
    return "\n".join(line for line in text.splitlines() if line.strip()) + "\n"


def quoted(text: str) -> str:
    """Quote a text for YAML."""
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'


def procedure_uri(procedure: str, vehicle: str = "index") -> str:
    """Return the address of a procedure's page for one car, or of its front page."""
    return f"procedures/{procedure}/{vehicle}.md"


def vehicle_uri(vehicle: str) -> str:
    """Return the address of a vehicle's page."""
    return f"vehicles/{vehicle}.md"


def calculator_uri(calculator: str) -> str:
    """Return the address of a calculator's page."""
    return f"calculators/{calculator}.md"


def record_uri(record: str) -> str:
    """Return the address of the page for authors on a record of the sources, by its title."""
    return f"authors/fields/{record.lower()}.md"


def relative(target: str, page: str) -> str:
    """Return a target's address as seen from a page, as MkDocs resolves it in Markdown."""
    return posixpath.relpath(target, posixpath.dirname(page) or ".")


def href(target: str, page: str) -> str:
    """Return a target's address as a link in HTML."""
    return relative(target, page).replace(".md", ".html")
