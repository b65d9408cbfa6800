"""What is folded on a procedure's page opens by a click, by a key, by a link, and on paper."""

import re
from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect
from tests.browser.conftest import tab_to, work_page

PAGE = work_page("crankcase-ventilation", "quillon-tarn")
FOLDED = {
    ".plan-whole": "The whole plan, drawn: ",
    ".plan-list": "The whole plan as a list: ",
    ".lessons": "Tasks and questions",
    ".sources-all": " sources: ",
}


@pytest.fixture
def procedure(page: Page, book_address: str) -> Page:
    page.goto(f"{book_address}{PAGE}")
    return page


def test_long_parts_are_folded_and_say_what_they_hold(procedure: Page) -> None:
    for name, says in FOLDED.items():
        part = procedure.locator(name)
        assert part.get_attribute("open") is None, name
        expect(part.locator("summary")).to_contain_text(says)
    points = procedure.locator(".plan-point").count()
    assert points > 20
    for name in (".plan-whole", ".plan-list"):
        expect(procedure.locator(f"{name} summary")).to_contain_text(f": {points} points")
    assert procedure.locator(".plan-list li").count() == points


def test_what_one_needs_first_is_never_folded(procedure: Page) -> None:
    folded = "details :is(.safety-message, .observation, .test, .plan-first)"
    assert procedure.locator(folded).count() == 0
    expect(procedure.locator(".plan")).to_contain_text("Expected before any code is read: ")
    expect(procedure.locator(".plan")).to_contain_text("Fitting parts by guess")
    first = procedure.locator(".plan-first a")
    expect(first.first).to_have_text("Vacuum in the crankcase")
    first.first.click()
    title = procedure.get_by_role("heading", name="Vacuum in the crankcase")
    expect(title).to_be_in_viewport()


@pytest.mark.parametrize("scripts", [True, False])
def test_a_link_into_a_folded_part_opens_it(
    new_page: Callable[..., Page], book_address: str, scripts: bool
) -> None:
    page = new_page(java_script_enabled=scripts)
    page.goto(f"{book_address}{PAGE}")
    drawing = page.locator(".plan-drawing")
    expect(drawing).to_be_hidden()
    page.get_by_role("link", name="the whole plan").click()
    expect(drawing).to_be_visible()
    expect(page.locator("#plan-drawn")).to_be_in_viewport()


def test_an_address_that_ends_in_a_folded_part_opens_it(page: Page, book_address: str) -> None:
    page.goto(f"{book_address}{PAGE}#plan-drawn")
    expect(page.locator(".plan-drawing")).to_be_visible()


def test_the_address_of_a_heading_opens_what_is_folded_behind_it(procedure: Page) -> None:
    for place, text in [("For a class", ".lessons li"), ("Sources", ".sources li")]:
        expect(procedure.locator(text).first).to_be_hidden()
        procedure.locator(".glance-places").get_by_role("link", name=place).click()
        expect(procedure.locator(text).first).to_be_visible()


def test_a_key_opens_and_closes_it(procedure: Page) -> None:
    tab_to(procedure, ".plan-whole summary")
    procedure.keyboard.press("Enter")
    expect(procedure.locator(".plan-drawing")).to_be_visible()
    procedure.keyboard.press("Space")
    expect(procedure.locator(".plan-drawing")).to_be_hidden()


def test_paper_shows_what_is_folded(procedure: Page) -> None:
    procedure.emulate_media(media="print")
    for name in (".plan-drawing", ".lessons li", ".sources li"):
        expect(procedure.locator(name).first).to_be_visible()
    assert procedure.locator(".plan-drawing svg").first.bounding_box()


def test_the_search_finds_what_is_folded(procedure: Page) -> None:
    """The word stands in one question for a class and nowhere else in the book."""
    procedure.locator(".md-search__input").first.fill("meal")
    found = procedure.locator(".md-search-result__link[href*='crankcase-ventilation']")
    expect(found.nth(1)).to_contain_text("For a class")
    found.nth(1).click()
    expect(procedure).to_have_url(re.compile("#lessons$"))
    expect(procedure.locator(".lessons")).to_contain_text("the price of a meal")
    expect(procedure.locator(".lessons li").first).to_be_visible()
