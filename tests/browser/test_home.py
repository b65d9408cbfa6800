"""The home page and the field on every page: all of the book is found, without a mouse too."""

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect
from tests.browser.conftest import tab_to, unfold, work_page

Address = Callable[[Path], str]

AIR = "Secondary air, electric pump and vacuum-operated valve"
WORK = work_page("secondary-air-vacuum-valve", "halden-finch")


def find(page: Page, words: str) -> list[str]:
    """Type into the field; return what is found, each as one line."""
    page.locator(".finder input").fill(words)
    expect(page.locator(".finds-more, .finds [role=option]").first).to_be_visible()
    return [" ".join(text.split()) for text in page.locator(".finds a").all_inner_texts()]


@pytest.fixture
def home(page: Page, book_address: str) -> Page:
    page.goto(f"{book_address}index.html")
    return page


@pytest.mark.parametrize("typed", ["p0411", "P 0411", "PO411", "P-0411", "0411"])
def test_a_code_is_found_however_it_is_typed(home: Page, typed: str) -> None:
    found = find(home, typed)
    assert any(line.startswith(f"{AIR} P0411 Secondary air") for line in found)


def test_a_code_that_the_book_does_not_have_is_told_with_its_system(home: Page) -> None:
    """The third sign of a code names the system (SAE J2012)."""
    home.locator(".finder input").fill("P1450")
    told = home.locator(".finds-note").first
    expect(told).to_contain_text("P1450 is not in this book.")
    expect(told).to_contain_text("auxiliary emission controls")
    expect(home.locator(".finds a").first).to_be_visible()


def test_what_is_nowhere_is_said_to_be_missing(home: Page) -> None:
    home.locator(".finder input").fill("xyzzyq")
    expect(home.locator(".finder-count")).to_have_text(
        "Nothing found. Try the code, one word of the complaint, or a part."
    )


def word_of_the_text_alone(book: Path) -> str:
    """Return a word that stands in the text of a procedure and in no entry."""
    shards = book / "assets" / "search"
    known = "".join((shards / f"{name}.js").read_text("utf-8") for name in ("first", "parts"))
    beginnings = {word[:5] for word in re.findall("[a-z]+", known.lower())}
    words = re.findall(r"\b[a-z]{8,}\b", (shards / "text-0.js").read_text("utf-8"))
    return next(word for word in words if word[:5] not in beginnings)


def test_the_full_text_is_its_last_group(home: Page, book: Path) -> None:
    word = word_of_the_text_alone(book)
    home.locator(".finder input").fill(word)
    expect(home.locator(".finds h2").last).to_have_text("In the text")
    expect(home.locator(".finds a").last).to_contain_text(word, ignore_case=True)


def test_the_procedure_of_the_chosen_car_stands_first_with_the_code_ready(
    page: Page, book: Path, address_of: Address
) -> None:
    page.goto(f"{address_of(book)}vehicles/halden-finch.html?car=halden-finch")
    tab_to(page, ".finder input")
    page.keyboard.type("p0411")
    first = page.locator(".finds a").first
    expect(first).to_contain_text(AIR)
    expect(first).to_contain_text("Halden Finch")
    page.keyboard.press("ArrowDown")
    expect(first).to_have_attribute("aria-selected", "true")
    expect(page.locator(".finder input")).to_have_attribute(
        "aria-activedescendant", first.get_attribute("id") or ""
    )
    page.keyboard.press("Enter")
    page.wait_for_url("**/secondary-air-vacuum-valve/*code=P0411*")
    expect(page.locator(".car-some")).to_contain_text("Halden Finch")


def test_escape_empties_the_field(home: Page) -> None:
    assert find(home, "pump") != []
    home.keyboard.press("Escape")
    expect(home.locator(".finder input")).to_have_value("")
    expect(home.locator(".finds")).to_be_hidden()


def test_the_stroke_goes_to_the_field_of_any_page(page: Page, book_address: str) -> None:
    page.goto(f"{book_address}calculators/fuse.html")
    page.keyboard.press("/")
    expect(page.locator(".finder input")).to_be_focused()


def test_every_entry_of_the_field_leads_to_a_page_of_the_book(home: Page, book: Path) -> None:
    find(home, "pump")
    targets = home.evaluate(
        "[...baybook.data.search.first.entries, ...baybook.data.search.parts.entries]"
        ".filter(e => e.to).map(e => e.to)"
    )
    assert len(targets) > 20
    assert [to for to in set(targets) if not (book / to).is_file()] == []
    procedures = home.evaluate("baybook.data.search.first.procedures")
    for name, told in procedures.items():
        assert (book / "procedures" / name / f"{told['page']}.html").is_file()


def test_without_a_car_neutral_words_stand_and_nothing_else(
    new_page: Callable[..., Page], book_address: str
) -> None:
    for scripts in (True, False):
        page = new_page(java_script_enabled=scripts)
        page.goto(f"{book_address}{WORK.partition('?')[0]}")
        figures = page.locator(".figure").all_text_contents()
        assert len(figures) > 40
        assert all(text.startswith("[") and text.endswith("]") for text in figures)
        expect(page.locator("table.cars")).to_contain_text("Halden Finch")


def test_two_cars_of_one_page_show_their_own_figures(
    new_page: Callable[..., Page], book_address: str
) -> None:
    """Two cars of the thermostat's page, in two windows at once."""
    shown = []
    for car in ("halden-finch", "quillon-tarn"):
        page = new_page()
        page.goto(f"{book_address}{work_page('thermostat-warm-up', car)}")
        unfold(page)
        places = page.evaluate("baybook.car.chosen().places")
        texts = {}
        for figure in page.locator(".figure").all():
            key = figure.get_attribute("data-figure") or ""
            texts[key] = " ".join(figure.inner_text().split())
            wanted = "".join(t if isinstance(t, str) else t[2] for t in places[key]["texts"])
            assert texts[key] == " ".join(wanted.split()), key
        shown.append(texts)
    assert shown[0] != shown[1]


def test_an_old_address_leads_on_with_its_query_and_place(page: Page, book_address: str) -> None:
    page.goto(f"{book_address}index.html")
    old = "procedures/secondary-air-vacuum-valve/halden-finch.html?code=P0411#tests"
    page.evaluate("to => { location.href = to; }", f"{book_address}{old}")
    page.wait_for_url("**car=halden-finch#tests")
    assert "code=P0411" in page.url
    expect(page.locator(".car-some")).to_contain_text("Halden Finch")
