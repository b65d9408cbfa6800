"""What the pages of a book share: settings, addresses, and a page as it goes to MkDocs."""

import posixpath
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from markupsafe import Markup

LICENCES_URI = "licences.md"
"""Address of the page of what others made."""

SHEETS_URI = "bench-sheets.md"
"""Address of the page of the bench sheets."""


PROCEDURES_URI = "procedures/index.md"
VEHICLES_URI = "vehicles/index.md"
CALCULATORS_URI = "calculators/index.md"
INDEXES_URI = "indexes/index.md"
LANDINGS = {
    "Procedures": PROCEDURES_URI,
    "Vehicles": VEHICLES_URI,
    "Calculators": CALCULATORS_URI,
    "Indexes": INDEXES_URI,
}
"""The page on top of each part of the book."""

MY_CAR_URI = "my-car.md"
"""Address of the page on which a reader enters a car of one's own."""


@dataclass(frozen=True, slots=True)
class Settings:
    """What the publisher of a book decides."""

    labour_per_hour: float = 60.0
    currency: str = "$"
    for_authors: bool = True
    safe: bool = False
    """Whether the texts of the sources may hold nothing live."""


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
    asks: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)
    """What the page asks of the chosen car, by the name of the place."""

    files: Mapping[str, str] = field(default_factory=dict)
    """Files that the page reads when they are needed: text by address."""
    uses: Mapping[str, Iterable[str]] = field(default_factory=dict)
    """For each figure of the car the parts of the page that use it."""
    up: str = ""
    """Address of the page between this one and the landing page, where there is one."""
    here: str = ""
    """What the page is called below that one."""

    def with_text(self, text: Markup) -> "Page":
        """Return the page with another text."""
        return replace(self, text=text)

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


def procedure_uri(procedure: str, equipment: str = "index") -> str:
    """Return the address of a procedure's page for a set of equipment, or of its front page."""
    return f"procedures/{procedure}/{equipment}.md"


def car_href(
    procedure: str, car: str, names: Mapping[tuple[str, str], str], page: str, code: str = ""
) -> str:
    """Return the address of a procedure's page with a car chosen, as a link in HTML."""
    address = href(procedure_uri(procedure, names[procedure, car]), page)
    return f"{address}?car={car}" + (f"&code={code}" if code else "")


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
