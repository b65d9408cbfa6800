"""Whole jobs on the cards: phone, tablet and PC; by touch, mouse and keys; a host and a folder."""

import json
import math
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, expect
from tests.browser.conftest import uri_of, work_page
from tests.browser.paper import printed_sheets
from tests.browser.technician import PRICE, Technician

from baybook.learning.closed_jobs import SheetReader

Address = Callable[[Path], str]

DEVICES: dict[str, dict[str, Any]] = {
    "phone": {"viewport": {"width": 390, "height": 844}, "has_touch": True},
    "tablet": {"viewport": {"width": 820, "height": 1180}, "has_touch": True},
    "pc": {"viewport": {"width": 1280, "height": 900}},
}
AIR = "secondary-air-vacuum-valve"
HEATER = "oxygen-sensor-heater for quillon-tarn"
"""A small procedure: what holds for every job is seen on it."""

TWO_QUESTIONS = f"{AIR} for halden-finch with P0411"
"""A job whose first test asks two questions."""

MOST_TAPS = 18
"""Taps of the typical job on a phone, from the open page to the closed job."""


def folder(book: Path) -> str:
    return f"{book.resolve().as_uri()}/"


# procedure, car, code, hidden fault, device, hands, light, from a folder
JOBS = [
    (AIR, "halden-finch", "P0411", "valve-leaks", "phone", "touch", "light", True),
    (AIR, "halden-finch", "P0411", "valve-leaks", "pc", "keys", "light", False),
    ("evaporative-leak", "quillon-tarn", "P0456", "port-leaks", "pc", "mouse", "dark", False),
    (
        "thermostat-warm-up",
        "pemberley-drover",
        "P0128",
        "thermostat-open",
        "phone",
        "touch",
        "dark",
        True,
    ),
    ("lean-mixture", "halden-finch", "P0171", "boot-split", "tablet", "touch", "light", True),
    ("oxygen-sensor-heater", "quillon-tarn", "P0135", "fuse-blown", "pc", "keys", "dark", True),
    ("misfire-first-aid", "halden-finch", "P0302", "coil-dead", "phone", "touch", "light", False),
]


@pytest.mark.parametrize(
    ("procedure", "car", "code", "fault", "device", "hands", "light", "from_folder"), JOBS
)
def test_a_job_from_the_code_to_the_closed_record(
    new_page: Callable[..., Page],
    book: Path,
    book_address: str,
    procedure: str,
    car: str,
    code: str,
    fault: str,
    device: str,
    hands: str,
    light: str,
    from_folder: bool,
    tmp_path: Path,
) -> None:
    page = new_page(**DEVICES[device], color_scheme=light)
    address = folder(book) if from_folder else book_address
    page.goto(f"{address}{work_page(procedure, car)}&code={code}")
    technician = Technician(page, {fault}, hands=hands)
    technician.begin("AB 123")
    technician.work()
    assert f"repaired {fault}" in technician.steps
    assert technician.steps[:3] == ["codes", "safety", "opening"]
    assert technician.steps[-1] == "close"
    record = page.evaluate("baybook.store.records()[0]")
    assert record["closed"]
    assert record["car"]["plate"] == "AB 123"
    assert [e["price"] for e in record["events"] if e["type"] == "repair"][-1] == PRICE
    learned_from(record, page.evaluate("baybook.job.data()"), tmp_path)


def learned_from(record: dict[str, Any], data: dict[str, Any], folder: Path) -> None:
    """Read the record as `baybook learn` does: it counts, and says what the page was told."""
    (folder / "sheet.json").write_text(json.dumps(record), "utf-8")
    networks = {data["fingerprint"]: data["network"]}
    read = SheetReader(record["book"], networks).read(folder, "sheet.json")
    assert read.why == ""
    (job,) = read.jobs
    assert (job.proofs, job.unexplained) == (1, False)
    assert job.codes


def test_the_typical_job_on_a_phone_takes_few_taps_and_no_scrolling_to_the_next_card(
    new_page: Callable[..., Page], book_address: str
) -> None:
    page = new_page(**DEVICES["phone"])
    page.goto(f"{book_address}{work_page(AIR, 'halden-finch')}&code=P0411")
    technician = Technician(page, {"valve-leaks"})
    technician.begin("AB 123")
    technician.work(until="fit")
    readings = sum(step.startswith("test") for step in technician.steps)
    assert technician.taps <= MOST_TAPS, technician.steps
    assert readings <= 10


def begun(page: Page, address: str, where: str = f"{HEATER} with P0135") -> Technician:
    """Begin a job and come to its first test."""
    uri, _, code = where.partition(" with ")
    page.goto(f"{address}{uri_of(uri)}&code={code}")
    technician = Technician(page, {"fuse-blown"}, hands="mouse")
    technician.begin("AB 123")
    technician.work(until="test")
    return technician


def entries(page: Page) -> list[str]:
    return list(
        page.evaluate("baybook.job.events().map((event) => event.observation ?? event.type)")
    )


def written(page: Page) -> None:
    """Wait until the browser has kept what was entered."""
    page.wait_for_function("baybook.store.isWritten()")


# -- one record per car ------------------------------------------------------------------------


def test_looking_a_code_up_writes_nothing(page: Page, book_address: str) -> None:
    page.goto(f"{book_address}{uri_of(HEATER)}&code=P0135")
    expect(page.locator("[data-code=P0135]")).to_be_checked()
    assert page.evaluate("baybook.store.records().length") == 0
    page.goto(f"{book_address}bench-sheets.html")
    expect(page.get_by_text("No sheet yet.")).to_be_visible()


def test_a_second_car_of_the_model_is_asked_for_and_never_mixed(
    page: Page, book_address: str
) -> None:
    begun(page, book_address)
    written(page)
    other = page.context.new_page()
    other.goto(f"{book_address}{uri_of(HEATER)}&code=P0141")
    other.locator("[data-start-job]").click()
    expect(other.locator(".made .hang .plate")).to_have_text("AB 123")
    other.locator("[data-job-car=plate]").fill("CD 456")
    other.locator("[data-act=begin]").click()
    other.locator("[data-act=intake]").click()
    written(other)
    told = (
        "baybook.store.records().map((r) => [r.car.plate, Object.keys(r.events[0].codes)]).sort()"
    )
    assert other.evaluate(told) == [["AB 123", ["P0135"]], ["CD 456", ["P0141"]]]
    expect(page.locator(".jobbar .plate")).to_have_text("AB 123")


def test_a_reload_on_any_card_comes_back_to_it(page: Page, book_address: str) -> None:
    page.goto(f"{book_address}{uri_of(HEATER)}&code=P0135")
    technician = Technician(page, {"fuse-blown"}, hands="mouse")
    technician.begin("AB 123")
    for until in ("codes", "safety", "opening", "test", "found", "fit", "prove", "close"):
        technician.work(until=until)
        before = (technician.name_of(until), entries(page))
        written(page)
        page.reload()
        assert technician.card() == until
        assert (technician.name_of(until), entries(page)) == before
        expect(page.locator(".jobbar .plate")).to_have_text("AB 123")


def test_back_and_forward_of_the_browser_are_one_step_each(page: Page, book_address: str) -> None:
    begun(page, book_address, TWO_QUESTIONS)
    first = entries(page)
    page.locator("[data-answer=yes]").click()
    page.locator("[data-answer=yes]").click()
    after = entries(page)
    assert len(after) == len(first) + 2
    page.go_back()
    assert entries(page) == after[:-1]
    page.go_forward()
    assert entries(page) == after
    page.locator("[data-dock=question] [data-act=back]").click()
    page.wait_for_function(f"baybook.job.events().length === {len(after) - 1}")
    assert entries(page) == after[:-1]


def test_two_windows_on_the_same_job_agree(page: Page, book_address: str) -> None:
    begun(page, book_address, TWO_QUESTIONS)
    written(page)
    other = page.context.new_page()
    other.goto(page.url)
    other.locator("[data-here-jobs] [data-slot=go]").click()
    other.locator("[data-answer=yes]").click()
    expected = entries(other)
    page.wait_for_function(f"baybook.job.events().length === {len(expected)}")
    assert entries(page) == expected


def test_home_leads_back_to_an_open_job(page: Page, book_address: str) -> None:
    begun(page, book_address)
    written(page)
    page.goto(f"{book_address}index.html")
    page.locator("[data-open-jobs] [data-slot=go]").click()
    expect(page.locator(".test.now")).to_be_visible()
    expect(page.locator(".jobbar .plate")).to_have_text("AB 123")


def test_a_closed_record_is_locked_and_the_car_is_free(page: Page, book_address: str) -> None:
    technician = begun(page, book_address)
    technician.work()
    count = len(entries(page))
    page.evaluate("baybook.job.add({ type: 'safety' })")
    assert len(entries(page)) == count
    page.locator("[data-act=next-car]").click()
    expect(page.locator("[data-job-car=plate]")).to_have_value("")
    assert page.evaluate("baybook.store.records().filter((record) => !record.closed).length") == 0


# -- the cards ---------------------------------------------------------------------------------


def test_the_first_advice_needs_no_python(page: Page, book_address: str) -> None:
    page.route("**/assets/runtime/*.*.*", lambda _route: None)  # it never comes
    page.goto(f"{book_address}{uri_of(HEATER)}&code=P0135")
    technician = Technician(page, set(), hands="mouse")
    technician.begin("AB 123")
    technician.work(until="opening")
    assert page.evaluate("baybook.python.status") == "loading"


NOTE_ASKED = """() => {
    const call = baybook.python.call;
    window.asked = [];
    baybook.python.call = async function (request, options) {
        const answer = await call.call(baybook.python, request, options);
        window.asked.push(options?.key);
        return answer;
    };
}"""


def test_what_a_card_comes_to_is_asked_while_it_is_worked_on(page: Page, book_address: str) -> None:
    page.goto(f"{book_address}{uri_of(HEATER)}&code=P0135")
    page.evaluate(NOTE_ASKED)
    technician = Technician(page, {"fuse-blown"}, hands="mouse")
    technician.begin("AB 123")
    technician.work(until="opening")
    page.wait_for_function("window.asked.includes('ahead')")
    technician.main_act()
    assert technician.card() == "test"
    assert "isolate" not in page.evaluate("window.asked")


def test_a_test_that_cannot_be_done_is_not_asked_for_again(page: Page, book_address: str) -> None:
    begun(page, book_address)
    name = page.locator(".test.now").get_attribute("data-test")
    page.locator("[data-act=cannot]:visible").click()
    page.locator("[data-act=skip]").click()
    expect(page.locator(f".test.now:not([data-test={name}])")).to_have_count(1)
    kept = page.evaluate("baybook.job.events().at(-1)")
    assert (kept["type"], kept["test"], kept["why"]) == ("skipped", name, "no tool for it here")


def test_the_whole_page_is_one_press_away_and_back(page: Page, book_address: str) -> None:
    begun(page, book_address)
    page.keyboard.press("Escape")
    expect(page.locator("#safety")).to_be_visible()
    expect(page.locator(".dock")).to_be_hidden()
    page.locator("[data-here-jobs] [data-slot=go]").click()
    expect(page.locator(".dock")).to_be_visible()


def test_the_focus_goes_to_the_heading_of_a_new_card(page: Page, book_address: str) -> None:
    begun(page, book_address)
    focused = page.evaluate("document.activeElement.id")
    assert focused == page.locator(".test.now").get_attribute("data-test")
    expect(page.locator("[data-job=live]")).to_contain_text("Next:")


def test_a_watch_runs_beside_a_timed_step(page: Page, book_address: str) -> None:
    page.clock.install()
    page.goto(f"{book_address}{work_page(AIR, 'halden-finch')}#pump-current")
    page.locator("[data-work-test=pump-current]").click()
    technician = Technician(page, set(), hands="mouse")
    page.locator("[data-act=begin]").click()
    technician.main_act()
    technician.main_act()
    page.evaluate("baybook.job.add({ type: 'step', step: 'test', test: 'pump-current' })")
    page.locator(".now .watch").first.click()
    page.clock.run_for(7_000)
    expect(page.locator(".timer output")).to_have_text("0:07")
    page.locator("[data-timer-stop]").click()
    page.clock.run_for(5_000)
    expect(page.locator(".timer output")).to_have_text("0:07")


def test_a_photo_stays_with_the_job_and_is_never_sent(page: Page, book_address: str) -> None:
    begun(page, book_address)
    shot = page.screenshot(clip={"x": 0, "y": 0, "width": 40, "height": 30})
    file = {"name": "odometer.png", "mimeType": "image/png", "buffer": shot}
    page.locator(".now [data-photo]").set_input_files(file)
    expect(page.locator(".trail .photos img")).to_have_count(1)
    written(page)
    page.goto(f"{book_address}bench-sheets.html")
    expect(page.locator(".sh-photos img")).to_have_count(1)


@pytest.mark.parametrize("where", ["http", "file"])
def test_a_curve_is_kept_with_the_job_and_printed_with_its_sheet(
    new_page: Callable[..., Page], book: Path, book_address: str, where: str
) -> None:
    page = new_page(viewport={"width": 1280, "height": 900}, color_scheme="dark")
    address = book_address if where == "http" else f"{book.as_uri()}/"
    page.goto(f"{address}{work_page('wide-band-sensors', 'sorrelby-wren')}#step-time")
    page.locator("details.embed[data-calculator=sensor_response] > summary").first.click()
    record = page.locator(".embed[data-calculator=sensor_response] textarea").first
    expect(record).to_be_visible()
    keep = page.get_by_role("button", name="Keep this curve with the job")
    expect(keep).to_be_hidden()  # so far an example stands there
    seconds = [place / 20 for place in range(61)]
    record.fill("\n".join(f"{each:.2f} {0.5 + 0.4 * math.sin(5 * each):.3f}" for each in seconds))
    expect(page.locator(".embed .drawing > svg").first).to_be_visible()
    expect(keep).to_be_hidden()  # no job is open
    page.evaluate("baybook.job.begin({ plate: 'AB 123' })")
    page.locator(".curve-keep button").evaluate("each => each.click()")
    expect(page.locator(".curve-told")).to_have_text("The curve is kept with the job.")
    page.evaluate("baybook.job.record().closed = new Date().toISOString()")
    page.locator(".curve-keep button").evaluate("each => each.click()")
    (photo,) = page.evaluate("baybook.job.record().photos")
    assert photo["about"].startswith("Time of the pump current through a step: ")
    written(page)
    page.goto(f"{address}bench-sheets.html")
    picture = page.locator(".sh-photos img")
    expect(picture).to_have_count(1)
    expect(page.locator(".sh-photos figcaption")).to_have_text(photo["about"])
    white = picture.evaluate(
        """async (image) => {
            await image.decode();
            const canvas = new OffscreenCanvas(image.naturalWidth, image.naturalHeight);
            const pen = canvas.getContext("2d");
            pen.drawImage(image, 0, 0);
            const { data } = pen.getImageData(0, 0, canvas.width, canvas.height);
            let light = 0;
            for (let at = 0; at < data.length; at += 4) light += data[at] > 200 ? 4 : 0;
            return light / data.length;
        }"""
    )
    assert 0.6 < white < 0.99  # a drawing in dark lines on white, also where the page is dark


# -- paper -------------------------------------------------------------------------------------


def test_a_closed_job_is_one_sheet_of_paper_with_what_a_customer_asks(
    page: Page, book_address: str
) -> None:
    page.goto(f"{book_address}{work_page(AIR, 'halden-finch')}&code=P0411")
    technician = Technician(page, {"valve-leaks"}, hands="mouse")
    technician.begin("AB 123")
    technician.work(until="close")
    page.locator("[data-note=technician]").fill("K. Holm")
    technician.work()
    written(page)
    page.goto(f"{book_address}bench-sheets.html")
    expect(page.locator(".sh-tag")).to_have_text("AB 123")
    sheets = printed_sheets(page)
    assert len(sheets) == 1
    text = " ".join(" ".join(sheets).split())
    for line in (
        "AB 123",
        "Halden Finch 1.8",
        "P0411",
        "Shut-off valve lets exhaust gas back",
        "K. Holm",
        "cured",
        "Verified",
        "Left open",
        "Time so far",
    ):
        assert line in text, line
    for screen_only in ("Save as a file", "Delete", "Load a sheet", "Search"):
        assert screen_only not in text, screen_only
