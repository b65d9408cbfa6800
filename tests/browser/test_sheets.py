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
RECORDS = "JSON.stringify(baybook.store.records())"
WRITTEN = "baybook.store.isWritten()"

FULL = """IDBObjectStore.prototype.put = function () {
    throw new DOMException("no room", "QuotaExceededError");
};"""
DENIED = """for (const name of ["localStorage", "sessionStorage", "indexedDB"]) {
    Object.defineProperty(window, name, {
        get() { throw new DOMException("denied", "SecurityError"); },
    });
}"""
OLD = {
    "form": "baybook/bench-sheet",
    "version": 1,
    "id": "0f0e0d0c-1111-2222-3333-444455556666",
    "begun": "2026-11-01T08:00:00.000Z",
    "changed": "2026-11-01T09:00:00.000Z",
    "car": "QT 118",
    "vehicle": "halden-finch",
    "vehicleName": "Halden Finch",
    "remarks": "hose swollen with oil",
    "events": [],
}


def make_job(page: Page, address: str, plate: str) -> None:
    """Begin a job for a car and give one answer; its record is then kept."""
    page.goto(f"{address}{PAGE}")
    page.wait_for_function("baybook.job.data()")
    page.evaluate("plate => { baybook.job.leave(); baybook.job.begin({ plate }); }", plate)
    page.locator(".observation-question input[value=no]").first.evaluate("each => each.click()")
    page.wait_for_function(WRITTEN)


def open_sheets(page: Page, address: str) -> None:
    page.goto(f"{address}bench-sheets.html")


def shown(page: Page) -> Any:
    return expect(page.locator(".sh-tag"))


def save(page: Page, folder: Path) -> Path:
    """Save the sheet that is shown as a file."""
    with page.expect_download() as download:
        page.get_by_role("button", name="Save as a file").click()
    path = folder / download.value.suggested_filename
    download.value.save_as(path)
    return path


def test_open_jobs_stand_side_by_side_and_lead_back(
    page: Page, book: Path, address_of: Address
) -> None:
    address = address_of(book)
    make_job(page, address, "QT 1")
    make_job(page, address, "QT 2")
    open_sheets(page, address)
    shown(page).to_have_text("QT 2")
    expect(page.locator(".hang")).to_have_count(2)
    page.locator(".hang", has_text="QT 1").locator("[data-slot=go]").click()
    expect(page.locator(".jobbar .plate")).to_have_text("QT 1")


def test_a_record_survives_a_closed_window(page: Page, book_address: str) -> None:
    make_job(page, book_address, "QT 3")
    page.close()
    page = page.context.new_page()
    page.goto(f"{book_address}{PAGE}")
    page.locator("[data-here-jobs] [data-slot=go]").click()
    expect(page.locator(".jobbar .plate")).to_have_text("QT 3")
    expect(page.locator(".observation-question input[value=no]").first).to_be_checked()


def test_what_could_not_be_written_yet_is_there_on_the_next_page(
    page: Page, book_address: str
) -> None:
    make_job(page, book_address, "QT 4")
    page.evaluate(
        """() => {
            IDBObjectStore.prototype.put = () => { throw new DOMException("busy", "AbortError"); };
            baybook.job.note({ remarks: "typed at the last moment" });
        }"""
    )
    page.on("dialog", lambda dialog: dialog.accept())
    open_sheets(page, book_address)
    expect(page.locator(".sh-remark")).to_contain_text("typed at the last moment")


def test_a_saved_record_is_sound_and_is_the_one_in_hand_in_another_browser(
    new_page: Callable[..., Page], book: Path, address_of: Address, tmp_path: Path
) -> None:
    address = address_of(book)
    page = new_page()
    make_job(page, address, "Ä/Ö: QT 5")
    open_sheets(page, address)
    path = save(page, tmp_path)
    saved = json.loads(path.read_text())
    assert path.name == f"bench-sheet-Ä-Ö-QT-5-{saved['begun'][:10]}.json"
    Draft202012Validator(SCHEMA).validate(saved)
    other = new_page()
    open_sheets(other, address)
    expect(other.get_by_text("No sheet yet.")).to_be_visible()
    other.locator("#sheet-load").set_input_files(path)
    expect(other.locator("[data-job=trouble]")).to_contain_text("Loaded.")
    shown(other).to_have_text("Ä/Ö: QT 5")
    assert json.loads(other.evaluate(RECORDS)) == [saved]
    other.wait_for_function(WRITTEN)
    other.goto(f"{address}{PAGE}")
    expect(other.locator(".jobbar .plate")).to_have_text("Ä/Ö: QT 5")


def test_a_record_of_a_job_that_went_on_stands_beside_it(
    page: Page, book_address: str, tmp_path: Path
) -> None:
    make_job(page, book_address, "QT 6")
    open_sheets(page, book_address)
    path = save(page, tmp_path)
    page.locator("#sheet-load").set_input_files(path)
    expect(page.locator("[data-job=trouble]")).to_contain_text("Loaded.")
    expect(page.locator(".hang")).to_have_count(1)  # the same record, once
    page.evaluate("baybook.store.put({ ...baybook.store.records()[0], remarks: 'went on' })")
    page.locator("#sheet-load").set_input_files(path)
    expect(page.locator("[data-job=trouble]")).to_contain_text("the loaded one stands beside it")
    expect(page.locator(".hang")).to_have_count(2)


def test_a_damaged_or_foreign_file_changes_nothing(
    page: Page, book_address: str, tmp_path: Path
) -> None:
    make_job(page, book_address, "QT 7")
    open_sheets(page, book_address)
    text = save(page, tmp_path).read_text()
    before = page.evaluate(RECORDS)
    for content, sentence in [
        (text[:-40], "This file cannot be read: it is not a bench sheet, or it is damaged."),
        ("\x00\x01", "This file cannot be read: it is not a bench sheet, or it is damaged."),
        ("[1, 2]", "This is not a bench sheet of this book."),
        (text.replace('"version": 2', '"version": 3'), "This sheet has version 3; this book reads"),
        (text.replace('"outcome": "fail"', '"outcome": "good"'), "/events/0/outcome"),
        (text.replace('"type": "result"', '"type": "toString"'), "/events/0"),
        (text.replace('"begun"', '"began"'), "begun"),
        (text.replace('"book": "', '"book": "other-'), "This sheet is of another book."),
        (text + " " * 60_000_001, "This file is too large to be a bench sheet."),
    ]:
        wrong = tmp_path / "wrong.json"
        wrong.write_text(content)
        page.locator("#sheet-load").set_input_files(wrong)
        expect(page.locator("[data-job=trouble]")).to_contain_text(sentence)
        expect(page.locator("[data-job=trouble]")).to_contain_text("Nothing was changed.")
        assert page.evaluate(RECORDS) == before


def test_sheets_of_the_first_version_are_taken_over_and_damaged_ones_put_aside(
    page: Page, book_address: str
) -> None:
    open_sheets(page, book_address)
    page.evaluate(
        """sheet => {
            localStorage.setItem(`baybook.sheet.${sheet.id}`, JSON.stringify(sheet));
            localStorage.setItem("baybook.sheet.broken", "{broken");
        }""",
        OLD,
    )
    page.reload()
    shown(page).to_have_text("QT 118")
    expect(page.locator(".sh-remark")).to_contain_text("hose swollen with oil")
    kept = page.evaluate("Object.fromEntries(Object.entries(localStorage))")
    assert "baybook.sheet.broken" not in kept
    assert kept["baybook.damaged.baybook.sheet.broken"] == "{broken"


def test_a_sheet_is_deleted_only_after_a_question(page: Page, book_address: str) -> None:
    make_job(page, book_address, "QT 10")
    open_sheets(page, book_address)
    answers = iter([Dialog.dismiss, Dialog.accept])
    page.on("dialog", lambda dialog: next(answers)(dialog))
    page.get_by_role("button", name="Delete").click()
    expect(page.locator(".hang")).to_have_count(1)
    page.get_by_role("button", name="Delete").click()
    expect(page.get_by_text("No sheet yet.")).to_be_visible()


@pytest.mark.parametrize("harm", [FULL, DENIED], ids=["full", "denied"])
def test_where_nothing_can_be_kept_the_page_says_so_offers_a_file_and_asks_before_it_goes(
    page: Page, book_address: str, tmp_path: Path, harm: str
) -> None:
    page.add_init_script(harm)
    page.goto(f"{book_address}{PAGE}")
    page.locator("[data-start-job]").click()
    page.locator("[data-job-car=plate]").fill("QT 11")
    page.locator("[data-act=begin]").click()
    page.locator("[data-act=intake]").click()
    page.locator("[data-act=safe]").click()
    expect(page.locator(".job-trouble")).to_be_visible()
    with page.expect_download() as download:
        page.locator("[data-act=save]").click()
    download.value.save_as(tmp_path / "sheet.json")
    saved = json.loads((tmp_path / "sheet.json").read_text())
    assert [event["type"] for event in saved["events"]] == ["intake", "safety"]
    asked: list[str] = []
    page.on("dialog", lambda dialog: (asked.append(dialog.type), dialog.accept()))
    page.close(run_before_unload=True)
    page.context.new_page().wait_for_timeout(0)
    assert asked in (["beforeunload"], [])
