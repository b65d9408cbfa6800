"""Every page of the book: opens quietly, fits a phone, and its links lead somewhere."""

from collections.abc import Iterator
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urlsplit

import pytest
from playwright.sync_api import Page

PHONE = {"width": 390, "height": 844}
OVERFLOW = """() => {
    const width = document.documentElement.clientWidth;
    if (document.documentElement.scrollWidth <= width) return [];
    return [...document.querySelectorAll("body *")]
        .filter((each) => each.getBoundingClientRect().right > width + 1)
        .slice(0, 3)
        .map((each) => `${each.tagName} ${each.className}: ${each.textContent.slice(0, 40)}`);
}"""


def pages_of(book: Path) -> list[str]:
    return sorted(path.relative_to(book).as_posix() for path in book.rglob("*.html"))


def test_every_page_opens_quietly_and_fits_a_phone(
    page: Page, book: Path, book_address: str
) -> None:
    page.set_viewport_size(PHONE)
    too_wide = {}
    for uri in pages_of(book):
        page.goto(f"{book_address}{uri}")
        assert page.locator("h1").count() == 1, uri
        if found := page.evaluate(OVERFLOW):
            too_wide[uri] = found
    assert too_wide == {}


class Links(HTMLParser):
    """Collects what a page links to, and the places in it that can be linked to."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.targets: list[str] = []
        self.places: set[str] = set()
        self.twice: list[str] = []
        self.feed(text)

    def handle_starttag(self, _tag: str, attrs: list[tuple[str, str | None]]) -> None:
        found = dict(attrs)
        if place := found.get("id"):
            self.twice += [place] if place in self.places else []
            self.places.add(place)
        target = found.get("href") or found.get("src")
        if target is not None:
            self.targets.append(target)


@pytest.fixture(scope="module")
def links(book: Path) -> dict[str, Links]:
    """What each page links to."""
    return {uri: Links((book / uri).read_text("utf-8")) for uri in pages_of(book)}


def test_every_link_leads_to_a_file_and_a_place_of_the_book(
    book: Path, links: dict[str, Links]
) -> None:
    assert list(lost_links(book, links)) == []


def lost_links(book: Path, links: dict[str, Links]) -> Iterator[tuple[str, str]]:
    """Find links that lead nowhere; addresses of other hosts are for people, not asked for."""
    for uri, found in links.items():
        for target in found.targets:
            parts = urlsplit(target)
            if parts.scheme or parts.netloc:
                continue
            path = (book / uri).parent / unquote(parts.path) if parts.path else book / uri
            path = path / "index.html" if path.is_dir() else path
            place = links.get(path.resolve().relative_to(book).as_posix())
            no_place = parts.fragment and place and unquote(parts.fragment) not in place.places
            if not path.is_file() or (no_place and not parts.fragment.startswith("__")):
                yield uri, target


def test_no_page_uses_an_id_twice(links: dict[str, Links]) -> None:
    assert {uri: found.twice for uri, found in links.items() if found.twice} == {}


def test_no_page_asks_another_host_even_in_its_text(book: Path, links: dict[str, Links]) -> None:
    """Check what a page loads: scripts, styles, images; links that people follow are no matter."""
    outside = [
        (uri, line.strip()[:120])
        for uri in links
        for line in (book / uri).read_text("utf-8").splitlines()
        if ('src="http' in line or 'rel="stylesheet" href="http' in line)
    ]
    assert outside == []
