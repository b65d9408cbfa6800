"""The pages on paper: nothing of the text is lost or cut, entries stand as they were typed."""

import re
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect
from tests.browser.conftest import unfold, uri_of
from tests.browser.paper import plain, printed_sheets

PROCEDURE = "vacuum-supply for halden-finch"
PAGES = (
    "index.html",
    "procedures/vacuum-supply/index.html",
    "calculators/index.html",
    "vehicles/halden-finch.html",
    "indexes/parts.html",
    "authors/text.html",
)
# A4 less Chromium's own margins of 1 cm, at 96 dots an inch.
PAPER = {"width": 718, "height": 1047}
CUT = """() => [...document.querySelectorAll(".text *")]
    .filter((each) => !each.matches("input, select, svg *") && each.checkVisibility())
    .filter((each) => getComputedStyle(each).overflowX !== "visible")
    .filter((each) => each.scrollWidth > each.clientWidth + 1)
    .map((each) => `${each.tagName} ${each.className}`)"""
# What only a screen needs; all else that can be read there is printed.
SCREEN_ONLY = """.headerlink, button, .jobbar, .wcard-made, .dock, .trail, template, .bay,
    .starter, .plan-whole, .crumbs, .car-choice, .diagram-down, summary, .observation-told,
    .glance-trail, .answer, .inview, .sample-word, .sample-say, .calc-group,
    .diagram-text, .embed:not([data-used]), .finder, .field-help, .calculator-address,
    .glance-places, .test-skip, .index-filter, [hidden], script,
    details:not([open]):not(.keep, [data-used]), select, title, desc"""
PIECES = """(screenOnly) => {
    const pieces = [];
    const walker = document.createTreeWalker(document.querySelector(".text"), 4);
    while (walker.nextNode()) {
        const { data, parentElement } = walker.currentNode;
        if (data.trim() && !parentElement.closest(screenOnly)) pieces.push(data);
    }
    return pieces;
}"""
"""Every piece of text that paper must show, in closed parts too."""


def paper_text(page: Page) -> str:
    """Print a page; return its text without any space, for paper breaks lines elsewhere."""
    return without_space("".join(printed_sheets(page, margin=dict.fromkeys(SIDES, "1cm"))))


SIDES = ("top", "right", "bottom", "left")


def without_space(text: str) -> str:
    return re.sub(r"\s", "", plain(text))


def check_paper(page: Page) -> str:
    """Check that a page loses nothing on paper; return what is printed."""
    page.set_viewport_size(PAPER)
    page.emulate_media(media="print")
    assert page.evaluate("document.documentElement.scrollWidth") <= PAPER["width"]
    assert page.evaluate(CUT) == []
    printed = paper_text(page)
    pieces = page.evaluate(PIECES, SCREEN_ONLY)
    assert [piece for piece in pieces if without_space(piece) not in printed] == []
    return printed


@pytest.mark.parametrize("uri", PAGES)
def test_a_page_is_printed_whole(page: Page, book_address: str, uri: str) -> None:
    page.goto(f"{book_address}{uri}")
    check_paper(page)


def test_a_procedure_is_printed_whole_with_its_readings_and_no_panel(
    page: Page, book: Path
) -> None:
    page.goto(f"{book.as_uri()}/{uri_of(PROCEDURE)}")
    unfold(page)
    reading = page.locator(".observation-reading").first
    reading.locator("input[type=text]").fill("12,3")
    expect(reading.locator(".verdict")).to_be_visible()
    question = page.locator(".observation-question input[value=no]").first
    question.evaluate("each => each.click()")
    printed = check_paper(page)
    for text in ("12,3", "Reading12.3", "Safety", "Howitworks", "Proving"):
        assert text in printed, text
    for text in ("Whattodonext", "Thistestcannotbedonehere", "Startajob"):
        assert text not in printed, text


def test_a_calculator_inside_a_procedure_is_printed_once_it_was_used(
    page: Page, book_address: str
) -> None:
    page.goto(f"{book_address}{uri_of(PROCEDURE)}")
    unfold(page)
    embed = page.locator(".embed").first
    name = embed.locator("> summary").inner_text()
    embed.locator("> summary").click()
    first = embed.locator("input[type=text]:visible").first
    first.fill("19,7")
    expect(embed.locator(".calculator-state")).to_have_text("")
    embed.locator("> summary").click()  # shut again: it is printed all the same
    printed = check_paper(page)
    assert without_space(name) in printed
    assert "19,7" in printed
    assert "19.70inHg(66.71kPa)" in printed  # 3386.389 Pa to the inHg (NIST SP 811, B.8)
