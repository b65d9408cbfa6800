"""The home page and the search: everything of the book is found, without a mouse too."""

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect
from tests.browser.conftest import ROOT, tab_to

SOURCES = ROOT / "procedures"
Address = Callable[[Path], str]

SECONDARY_AIR = "Secondary air, electric pump and vacuum-operated valve"


def front_matter_codes(source: Path) -> str:
    """Return the line of a procedure's source that lists its codes."""
    return next(line for line in source.read_text().splitlines() if line.startswith("codes:"))


def find(page: Page, words: str) -> list[str]:
    """Type into the field of the home page; return what is shown, each as one line."""
    page.locator(".finder-field").fill(words)
    return [" ".join(text.split()) for text in page.locator(".finder-found li").all_inner_texts()]


@pytest.fixture
def home(page: Page, book_address: str) -> Page:
    page.goto(f"{book_address}index.html")
    return page


@pytest.mark.parametrize("typed", ["p0411", "P0411", "P 0411", "  p 0411 "])
def test_a_code_is_found_however_it_is_typed(home: Page, typed: str) -> None:
    found = find(home, typed)
    assert found[0].startswith("code P0411 Secondary air injection system incorrect flow")
    assert any(line.startswith("code P0411") and SECONDARY_AIR in line for line in found)
    procedures = [path for path in SOURCES.glob("*.md") if "P0411" in front_matter_codes(path)]
    assert len([line for line in found if line.startswith("code")]) == len(procedures)


@pytest.mark.parametrize(
    ("typed", "kind", "text"),
    [
        ("no hum", "complaint", "no hum from the pump after a cold start"),
        ("scorched hose", "complaint", "scorched or melted air hose"),
        ("shut-off valve", "part", "shut-off valve"),
        ("secondary air system", "procedure", SECONDARY_AIR),
        ("inches of mercury", "calculator", "Vacuum hold test"),
        ("halden", "car", "Halden Finch 1.8 (2011 to 2016)"),
    ],
)
def test_complaint_part_system_calculator_and_car_are_found(
    home: Page, typed: str, kind: str, text: str
) -> None:
    assert any(line.startswith(f"{kind} {text}") for line in find(home, typed))


def test_what_is_not_in_the_book_is_said_to_be_missing(home: Page) -> None:
    assert find(home, "P3999") == []
    expect(home.locator(".finder-count")).to_have_text(
        "Nothing found. Try the code, one word of the complaint, or a part."
    )


def test_a_code_leads_to_the_car_and_is_ticked_there_by_keyboard_alone(
    page: Page, book: Path, address_of: Address
) -> None:
    page.goto(f"{address_of(book)}index.html")
    tab_to(page, ".finder-field")
    page.keyboard.type("p0411 vacuum-operated")
    page.keyboard.press("ArrowDown")
    chosen = page.locator(".finder-found [aria-selected=true]")
    expect(chosen).to_have_count(1)
    expect(page.locator(".finder-field")).to_have_attribute(
        "aria-activedescendant", chosen.get_attribute("id") or ""
    )
    page.keyboard.press("Enter")
    page.wait_for_url("**/secondary-air-vacuum-valve/index.html?code=P0411")
    in_navigation = page.locator(".md-nav a[href*='halden-finch']").first
    expect(in_navigation).to_have_attribute("href", re.compile(r"\?code=P0411$"))
    tab_to(page, ".cars a[href*='halden-finch']")
    page.keyboard.press("Enter")
    page.wait_for_url("**/secondary-air-vacuum-valve/halden-finch.html*")
    expect(page.locator("[data-code=P0411]")).to_be_checked()


def test_escape_empties_the_field(home: Page) -> None:
    assert find(home, "pump") != []
    home.keyboard.press("Escape")
    expect(home.locator(".finder-field")).to_have_value("")
    expect(home.locator(".finder-found li")).to_have_count(0)


def test_the_search_of_the_theme_finds_a_procedure_by_its_code(
    page: Page, book: Path, address_of: Address
) -> None:
    page.goto(f"{address_of(book)}index.html")
    page.keyboard.press("/")
    page.keyboard.type("P0412")
    result = page.locator(".md-search-result__link[href*='secondary-air-vacuum-valve/']").first
    expect(result).to_be_visible()
    expect(result).to_contain_text("P0412")


def test_every_entry_of_the_field_leads_to_a_page_of_the_book(home: Page, book: Path) -> None:
    targets = home.evaluate(
        "JSON.parse(document.getElementById('finder-entries').textContent).map(e => e.to)"
    )
    assert len(targets) > 200
    assert [to for to in set(targets) if not (book / to.split("?")[0]).is_file()] == []
