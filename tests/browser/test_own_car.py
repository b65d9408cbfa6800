"""A car of one's own: from the empty form to its figures on the page, and its file."""

from collections.abc import Callable
from pathlib import Path

from playwright.sync_api import Page, expect
from tests.browser.conftest import tab_to

from baybook.cli import main

Address = Callable[[Path], str]

PROCEDURE = "secondary-air-vacuum-valve"
VACUUM = "#own-air-valve-opening-vacuum"


def enter_car(page: Page) -> None:
    """Enter a car by keyboard alone, with one figure."""
    tab_to(page, "#own-make")
    page.keyboard.type("Norvex")
    page.keyboard.press("Tab")
    page.keyboard.type("Lark 2.0 (2012)")
    page.keyboard.press("Tab")
    page.keyboard.type("four cylinders, 2.0 L")
    expect(page.locator("[data-has=air-pump-electric]")).to_be_checked()
    expect(page.locator(".own-figure").first).to_be_visible()
    tab_to(page, f"{VACUUM}-least")
    page.keyboard.type("6 inHg")
    page.keyboard.press("Tab")
    page.keyboard.type("2 inHg")


def test_a_car_of_ones_own_is_entered_checked_kept_and_used(
    page: Page, book: Path, address_of: Address
) -> None:
    page.goto(f"{address_of(book)}my-car.html?procedure={PROCEDURE}")
    enter_car(page)
    error = page.locator(f"{VACUUM}-greatest-error")
    expect(error).to_have_text("Expected at least 6 inHg, got 2 inHg.")
    page.locator(f"{VACUUM}-greatest").fill("12 inHg")
    expect(error).to_be_hidden()
    tab_to(page, ".own-form [type=submit]")
    page.keyboard.press("Enter")
    expect(page.locator("[data-own=told]")).to_have_text(
        "Kept in this browser. The pages show its figures now."
    )
    tab_to(page, f".own-serving a[href*='{PROCEDURE}']")
    page.keyboard.press("Enter")
    page.wait_for_url(f"**/{PROCEDURE}/*car=my-norvex-lark-2-0-2012")
    expect(page.locator(".car-some")).to_contain_text("Norvex Lark 2.0 (2012)")
    figure = page.locator("[data-figure='figure:air-valve-opening-vacuum:pressure']").first
    expect(figure).to_have_text("6 inHg (20 kPa) to 12 inHg (41 kPa)")
    assert page.locator(".figure-missing").count() > 10
    page.locator("header .finder input").fill("norvex")
    found = page.locator("header .finds a").first
    expect(found).to_contain_text("Norvex Lark 2.0 (2012)")
    found.click()
    page.wait_for_url("**/my-car.html?car=my-norvex-lark-2-0-2012&edit=*")
    expect(page.locator("#own-make")).to_have_value("Norvex")


def test_its_file_is_saved_loaded_in_a_fresh_profile_and_taken_into_the_book(
    new_page: Callable[..., Page], book_address: str, tmp_path: Path
) -> None:
    page = new_page(accept_downloads=True)
    page.goto(f"{book_address}my-car.html?procedure={PROCEDURE}")
    enter_car(page)
    page.locator(f"{VACUUM}-greatest").fill("12 inHg")
    with page.expect_download() as download:
        page.locator("[data-own=file]").click()
    saved = tmp_path / download.value.suggested_filename
    download.value.save_as(saved)
    assert saved.name == "norvex-lark-2-0-2012.yml"

    other = new_page()
    other.goto(f"{book_address}my-car.html")
    other.locator("[data-own=load]").set_input_files(saved)
    expect(other.locator("#own-model")).to_have_value("Lark 2.0 (2012)")
    expect(other.locator("[data-has=air-valve-vacuum]")).to_be_checked()
    other.locator("#own-procedure").select_option(PROCEDURE)
    expect(other.locator(f"{VACUUM}-greatest")).to_have_value("12 inHg")

    words = ["new", "vehicle", "lark", "--from", str(saved), "--folder", str(tmp_path / "sources")]
    assert main(words) == 0
    assert (tmp_path / "sources" / "vehicles" / "lark.yml").read_text() == saved.read_text()


def test_a_number_with_a_wrong_check_digit_is_told_and_a_right_one_gives_its_year(
    page: Page, book_address: str
) -> None:
    """1M8GDM9AXKP042788 is the worked example of the check digit (49 CFR 565.15, from memory)."""
    page.goto(f"{book_address}my-car.html")
    told = page.locator("#own-vin-told")
    page.locator("#own-vin").fill("1M8GDM9AXKP042789")
    expect(told).to_contain_text("The check digit does not fit")
    page.locator("#own-vin").fill("1M8GDM9AXKP042788")
    expect(told).to_contain_text("Model year: 1989")
