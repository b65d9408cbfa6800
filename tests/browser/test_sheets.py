"""Bench sheets: kept, side by side, saved and loaded; damaged, foreign and denied storage."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from playwright.sync_api import Dialog, Page, expect
from tests.browser.conftest import ROOT, work_page

Address = Callable[[Path], str]

PAGE = work_page("vacuum-supply", "halden-finch")
SCHEMA = json.loads((ROOT / "build/baybook/assets/bench-sheet.schema.json").read_text())
SHEETS = "JSON.stringify(baybook.sheets.all())"

FULL = """Storage.prototype.setItem = function () {
    throw new DOMException("no room", "QuotaExceededError");
};"""
# The sheets no longer fit, but what is small still does.
NEARLY_FULL = """const setItem = Storage.prototype.setItem;
Storage.prototype.setItem = function (key, value) {
    if (value.length > 1000) throw new DOMException("no room", "QuotaExceededError");
    setItem.call(this, key, value);
};"""
DENIED = """for (const name of ["localStorage", "sessionStorage"]) {
    Object.defineProperty(window, name, {
        get() { throw new DOMException("denied", "SecurityError"); },
    });
}"""
NOT_KEPT = "Save it as a file before you close the page."


def make_job(page: Page, address: str, car: str) -> None:
    """Begin a job and give one answer; its sheet is then kept."""
    page.goto(f"{address}{PAGE}")
    page.get_by_role("button", name="New job").click()
    page.locator(".observation-question input[value=no]").first.check()
    page.locator("#job-car").fill(car)
    page.locator("#job-car").press("Tab")


def open_sheets(page: Page, address: str) -> None:
    page.goto(f"{address}bench-sheets.html")


def save(page: Page, folder: Path) -> Path:
    """Save the sheet that is shown as a file."""
    with page.expect_download() as download:
        page.get_by_role("button", name="Save as a file").click()
    path = folder / download.value.suggested_filename
    download.value.save_as(path)
    return path


def test_sheets_stand_side_by_side(page: Page, book: Path, address_of: Address) -> None:
    address = address_of(book)
    make_job(page, address, "QT 1")
    make_job(page, address, "QT 2")
    page.get_by_role("link", name="Bench sheets").last.click()
    expect(page.locator(".sheet-shown h2")).to_have_text("Bench sheet: QT 2")
    expect(page.locator(".sheet-open")).to_have_count(2)
    page.get_by_role("button", name="QT 1,").click()
    expect(page.locator(".sheet-shown h2")).to_have_text("Bench sheet: QT 1")
    expect(page.locator(".sheet-open[aria-pressed=true]")).to_contain_text("QT 1")
    page.goto(f"{address}{PAGE}")  # the sheet that was opened is now the one in hand
    expect(page.locator("#job-car")).to_have_value("QT 1")


def test_a_sheet_survives_a_closed_window(page: Page, book_address: str) -> None:
    make_job(page, book_address, "QT 3")
    page.close()
    page = page.context.new_page()
    page.goto(f"{book_address}{PAGE}")
    expect(page.locator("#job-car")).to_have_value("QT 3")
    expect(page.locator(".observation-question input[value=no]").first).to_be_checked()


def test_what_is_typed_on_the_sheet_is_kept_and_the_focus_goes_on(
    page: Page, book_address: str
) -> None:
    make_job(page, book_address, "")
    open_sheets(page, book_address)
    page.locator("[name=car]").fill("QT 4")
    page.keyboard.press("Tab")
    expect(page.locator("[name=remarks]")).to_be_focused()
    expect(page.locator(".sheet-shown h2")).to_have_text("Bench sheet: QT 4")
    page.keyboard.type("hose swollen with oil")
    page.keyboard.press("Tab")
    page.reload()
    expect(page.locator("[name=remarks]")).to_have_value("hose swollen with oil")


def test_a_saved_sheet_is_sound_and_loads_in_another_browser(
    new_page: Callable[..., Page], book: Path, address_of: Address, tmp_path: Path
) -> None:
    address = address_of(book)
    page = new_page()
    make_job(page, address, "Mrs. Ä/Ö: QT 5")
    open_sheets(page, address)
    path = save(page, tmp_path)
    saved = json.loads(path.read_text())
    assert path.name == f"bench-sheet-Mrs-Ä-Ö-QT-5-{saved['begun'][:10]}.json"
    Draft202012Validator(SCHEMA).validate(saved)
    other = new_page()
    open_sheets(other, address)
    expect(other.locator(".sheet-shown")).to_contain_text("No sheet yet.")
    other.locator(".sheet-load").set_input_files(path)
    expect(other.locator(".sheet-message")).to_have_text("Loaded.")
    expect(other.locator(".sheet-shown h2")).to_have_text("Bench sheet: Mrs. Ä/Ö: QT 5")
    loaded = json.loads(other.evaluate(SHEETS))
    assert [without_time(sheet) for sheet in loaded] == [without_time(saved)]


def without_time(sheet: dict[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in sheet.items() if key != "changed"}


def test_a_sheet_of_a_job_that_went_on_stands_beside_it(
    page: Page, book_address: str, tmp_path: Path
) -> None:
    make_job(page, book_address, "QT 6")
    open_sheets(page, book_address)
    path = save(page, tmp_path)
    page.locator(".sheet-load").set_input_files(path)
    expect(page.locator(".sheet-message")).to_have_text("Loaded.")
    expect(page.locator(".sheet-open")).to_have_count(1)  # the same sheet, once
    page.locator("[name=remarks]").fill("went on")
    page.locator("[name=remarks]").press("Tab")
    page.locator(".sheet-load").set_input_files(path)
    expect(page.locator(".sheet-message")).to_contain_text("the loaded one stands beside it")
    expect(page.locator(".sheet-open")).to_have_count(2)


def test_a_damaged_or_foreign_file_changes_nothing(
    page: Page, book_address: str, tmp_path: Path
) -> None:
    make_job(page, book_address, "QT 7")
    open_sheets(page, book_address)
    text = save(page, tmp_path).read_text()
    before = page.evaluate(SHEETS)
    for content, sentence in [
        (text[:-40], "This file cannot be read: it is not a bench sheet, or it is damaged."),
        ("\x00\x01", "This file cannot be read: it is not a bench sheet, or it is damaged."),
        ("[1, 2]", "This is not a bench sheet of this book."),
        (text.replace('"version": 1', '"version": 2'), "This sheet has version 2; this book reads"),
        (text.replace('"outcome": "fail"', '"outcome": "good"'), "entry 1 has no known outcome."),
        (text.replace('"begun"', '"began"'), "This sheet is damaged: it has no begun."),
        (text + " " * 5_000_001, "This file is too large to be a bench sheet."),
    ]:
        wrong = tmp_path / "wrong.json"
        wrong.write_text(content)
        page.locator(".sheet-load").set_input_files(wrong)
        expect(page.locator(".sheet-message")).to_contain_text(sentence)
        expect(page.locator(".sheet-message")).to_contain_text("Nothing was changed.")
        assert page.evaluate(SHEETS) == before


def test_a_sheet_damaged_in_the_storage_is_put_aside_and_said(
    page: Page, book_address: str
) -> None:
    make_job(page, book_address, "QT 8")
    make_job(page, book_address, "QT 9")
    page.evaluate(
        """() => {
            const key = Object.keys(localStorage).find((each) =>
                each.startsWith("baybook.sheet.") && localStorage[each].includes("QT 8"));
            localStorage.setItem(key, "{broken");
        }"""
    )
    open_sheets(page, book_address)
    expect(page.locator(".sheet-message")).to_contain_text(
        "A kept sheet was damaged and was put aside."
    )
    expect(page.locator(".sheet-open")).to_have_count(1)
    expect(page.locator(".sheet-shown h2")).to_have_text("Bench sheet: QT 9")
    aside = "Object.entries(localStorage).filter(([key]) => key.startsWith('baybook.damaged.'))"
    assert [text for _, text in page.evaluate(aside)] == ["{broken"]


def test_a_sheet_is_deleted_only_after_a_question(page: Page, book_address: str) -> None:
    make_job(page, book_address, "QT 10")
    open_sheets(page, book_address)
    answers = iter([Dialog.dismiss, Dialog.accept])
    page.on("dialog", lambda dialog: next(answers)(dialog))
    page.get_by_role("button", name="Delete").click()
    expect(page.locator(".sheet-open")).to_have_count(1)
    page.get_by_role("button", name="Delete").click()
    expect(page.locator(".sheet-shown")).to_contain_text("No sheet yet.")


@pytest.mark.parametrize("harm", [FULL, NEARLY_FULL], ids=["full", "nearly full"])
def test_where_the_storage_is_full_the_page_says_so_and_goes_on(
    page: Page, book_address: str, harm: str
) -> None:
    check_going_on(page, book_address, harm)
    expect(page.locator(".job-trouble")).to_contain_text("This browser's storage is full")


@pytest.mark.usefixtures("errors_expected")  # the theme's own scripts complain, ours do not
def test_where_the_storage_is_denied_the_page_says_so_and_goes_on(
    page: Page, book_address: str
) -> None:
    check_going_on(page, book_address, DENIED)
    page.get_by_role("button", name="US units").click()
    expect(page.get_by_role("button", name="Metric units")).to_be_visible()


def check_going_on(page: Page, address: str, harm: str) -> None:
    """Answer eight questions where nothing can be kept; nothing is lost on the page."""
    page.add_init_script(harm)
    page.goto(f"{address}{PAGE}")
    questions = page.locator(".observation-question")
    for place in range(8):
        questions.nth(place).locator("input[value=no]").check()
    expect(page.locator(".job-trouble")).to_contain_text(NOT_KEPT)
    expect(page.locator(".job-next h3")).to_contain_text(":")
    for place in range(8):
        expect(questions.nth(place).locator("input[value=no]")).to_be_checked()
    assert len(page.evaluate("baybook.job.events()")) == 8
