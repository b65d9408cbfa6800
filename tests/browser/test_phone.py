"""The pages on a phone, and beside it on the wide screen: letters, targets, room."""

from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect
from tests.browser.conftest import uri_of

PROCEDURE = "crankcase-ventilation for quillon-tarn"
CALCULATOR = "calculators/vacuum_hold.html"
PAGES = (
    "index.html",
    PROCEDURE,
    "procedures/vacuum-supply/index.html",
    CALCULATOR,
    "calculators/index.html",
    "indexes/codes.html",
    "vehicles/halden-finch.html",
    "authors/fields/procedure.html",
)
TARGET = 44
"""Least side of what is pressed (WCAG 2.2, 2.5.5 Target Size (Enhanced)) [px]."""

PRESSED = """button, summary, select, input[type=text], .answer, .chip, .ways li > a,
    .systems li > a, .glance-places a, .top a, .top button"""
HEIGHTS = """(selector) => [...document.querySelectorAll(selector)]
    .filter((each) => each.checkVisibility() && !each.matches(".skip"))
    .map((each) => [each.outerHTML.slice(0, 90), each.getBoundingClientRect().height])"""
LETTERS = """() => [...document.querySelectorAll("svg:has(text)")]
    .filter((svg) => svg.checkVisibility())
    .flatMap((svg) => [...svg.querySelectorAll("text")].map((text) =>
        parseFloat(getComputedStyle(text).fontSize) * text.getScreenCTM().a))"""
"""The size of every letter in the drawings as it stands on the screen [px]."""


@pytest.fixture
def phone(page: Page, book_address: str) -> Callable[[str], Page]:
    """Open a page of the book on a phone, every folded part open."""

    def open_page(uri: str) -> Page:
        page.set_viewport_size({"width": 390, "height": 844})
        page.goto(f"{book_address}{uri_of(uri)}")
        page.evaluate("document.querySelectorAll('details').forEach((each) => each.open = true)")
        return page

    return open_page


@pytest.mark.parametrize("uri", PAGES)
def test_a_page_fits_its_letters_can_be_read_and_a_glove_finds_what_is_pressed(
    phone: Callable[[str], Page], uri: str
) -> None:
    page = phone(uri)
    assert page.evaluate("document.documentElement.scrollWidth") == 390
    if uri in (PROCEDURE, CALCULATOR):
        letters = page.evaluate(LETTERS)
        assert letters
        assert min(letters) > 10.99
    if not uri.startswith("authors/"):
        found = page.evaluate(HEIGHTS, PRESSED)
        assert found
        assert [each for each in found if each[1] < TARGET] == []


def test_letters_in_drawings_have_the_size_of_the_text_on_a_wide_screen(
    new_page: Callable[..., Page], book_address: str
) -> None:
    """The text of the page has 18 px."""
    page = new_page(viewport={"width": 1280, "height": 844})
    page.goto(f"{book_address}{uri_of(PROCEDURE)}")
    letters = page.evaluate(LETTERS)
    assert 12 < min(letters) <= max(letters) <= 18


def test_the_headline_of_a_calculator_is_always_in_sight(phone: Callable[[str], Page]) -> None:
    page = phone(CALCULATOR)
    line = page.locator(".inview")
    expect(line).to_be_in_viewport(ratio=1)
    expect(line).to_contain_text("Example:")
    page.locator("[name=end]").fill("15")
    expect(line).to_contain_text("Fail.")
    expect(line.get_by_text("Example:")).to_be_hidden()
    expect(line).to_be_in_viewport(ratio=1)
