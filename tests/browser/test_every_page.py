"""Every page of the book: opens quietly, keeps to its policy, fits a phone, has no lost link."""

from collections.abc import Iterator
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urlsplit

import pytest
from playwright.sync_api import Page

PHONE = {"width": 390, "height": 844}
PARTS = 2
"""So many tests share the pages, for two workers."""

VIOLATIONS = """window.violations = [];
document.addEventListener("securitypolicyviolation", (event) =>
    window.violations.push(`${event.violatedDirective}: ${event.blockedURI} ${event.sample}`));"""
SEEN = """() => {
    const width = document.documentElement.clientWidth;
    const tooWide = document.documentElement.scrollWidth <= width ? [] :
        [...document.querySelectorAll("body *")]
            .filter((each) => each.getBoundingClientRect().right > width + 1)
            .slice(0, 3)
            .map((each) => `${each.tagName} ${each.className}: ${each.textContent.slice(0, 40)}`);
    const policies = [...document.querySelectorAll("meta[http-equiv=Content-Security-Policy]")];
    return {
        tooWide,
        policies: policies.map((meta) => meta.content),
        violations: window.violations,
        headings: document.querySelectorAll("h1").length,
    };
}"""


EACH = 6
"""Of so many pages one is opened: pages of one procedure for other equipment are much alike."""


def pages_of(book: Path) -> list[str]:
    return sorted(path.relative_to(book).as_posix() for path in book.rglob("*.html"))


def wrong_with(page: Page, root: str, uri: str) -> dict[str, list[str]]:
    """Open a page; return what is wrong with it."""
    page.goto(f"{root}{uri}")
    seen = page.evaluate(SEEN)
    assert seen["headings"] == 1, uri
    first, *more = seen["policies"]
    assert "default-src 'none'" in first, uri
    assert ("worker-src 'self'" in more) == root.startswith("http") or uri == "404.html", uri
    return {what: seen[what] for what in ("tooWide", "violations") if seen[what]}


@pytest.mark.parametrize("part", range(PARTS))
def test_a_page_opens_quietly_keeps_to_its_policy_and_fits_a_phone(
    page: Page, book: Path, book_address: str, part: int
) -> None:
    page.add_init_script(VIOLATIONS)
    page.set_viewport_size(PHONE)
    uris = pages_of(book)[part :: PARTS * EACH]
    wrong = {uri: wrong_with(page, book_address, uri) for uri in uris}
    assert {uri: found for uri, found in wrong.items() if found} == {}


def test_one_page_of_each_kind_keeps_to_its_policy_in_a_folder(page: Page, book: Path) -> None:
    page.add_init_script(VIOLATIONS)
    page.set_viewport_size(PHONE)
    kinds = {(uri.count("/"), uri.partition("/")[0]): uri for uri in pages_of(book)}
    wrong = {uri: wrong_with(page, f"{book.as_uri()}/", uri) for uri in kinds.values()}
    assert {uri: found for uri, found in wrong.items() if found} == {}


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
