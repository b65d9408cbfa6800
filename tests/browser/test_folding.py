"""What is folded on a procedure's page opens by a click, by a key, by a link, and on paper."""

import re

import pytest
from playwright.sync_api import Page, expect
from tests.browser.conftest import tab_to, work_page

PAGE = work_page("crankcase-ventilation", "quillon-tarn")
FOLDED = {
    ".plan-whole": "The whole plan as a tree: ",
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


def test_the_whole_plan_is_read_when_it_is_opened(procedure: Page) -> None:
    said = procedure.locator(".plan-whole summary").inner_text()
    assert procedure.locator(".plan-tree li").count() == 0
    procedure.locator(".plan-whole summary").click()
    points = int(re.findall(r"\d+", said)[0])
    assert points > 20
    expect(procedure.locator(".plan-tree li")).to_have_count(points)
    procedure.locator(".plan-tree").get_by_role("link").first.click()
    expect(procedure.locator(".test h3").first).to_be_attached()


def test_the_address_of_a_heading_opens_what_is_folded_behind_it(procedure: Page) -> None:
    for place, text in [("For a class", ".lessons li"), ("Sources", ".sources li")]:
        expect(procedure.locator(text).first).to_be_hidden()
        procedure.locator(".glance-places").get_by_role("link", name=place).click()
        expect(procedure.locator(text).first).to_be_visible()


def test_a_key_opens_and_closes_it(procedure: Page) -> None:
    tab_to(procedure, ".plan-whole summary")
    procedure.keyboard.press("Enter")
    expect(procedure.locator(".plan-tree li").first).to_be_visible()
    procedure.keyboard.press("Space")
    expect(procedure.locator(".plan-tree li").first).to_be_hidden()
