"""A procedure's page: readings judged there and then, units, place and gauges, the drawing."""

from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Locator, Page, expect
from tests.browser.conftest import ROOT, unfold, work_page

Address = Callable[[Path], str]

PAGE = work_page("secondary-air-vacuum-valve", "halden-finch")
TITLE = "Secondary air, electric pump and vacuum-operated valve"
SOURCE = ROOT / "procedures" / "secondary-air-vacuum-valve.md"
HOLD = (
    "valve-hold.drop"  # at least 18 inHg, hand vacuum pump of 30 inHg, grade B, steps of 0.5 inHg
)
AT_VALVE = "valve-vacuum.arrives"  # at least 15 inHg at sea level, falls with the air


@pytest.fixture
def procedure(page: Page, book_address: str) -> Page:
    page.goto(f"{book_address}{PAGE}")
    unfold(page)
    return page


def place(page: Page, observation: str) -> Locator:
    return page.locator(f"[data-observation='{observation}']")


def enter(page: Page, observation: str, text: str) -> Locator:
    """Type a reading on the whole page; return the place of its observation."""
    found = place(page, observation)
    found.locator("input[type=text]").fill(text)
    return found


def test_a_reading_is_one_result_when_the_typing_rests(procedure: Page) -> None:
    field = place(procedure, HOLD).locator("input[type=text]")
    procedure.evaluate("window.calls = 0")
    procedure.evaluate(COUNT)
    field.evaluate(TYPED, ["1", "19", "19.", "19.5"])
    expect_verdict(place(procedure, HOLD), "pass")
    assert procedure.evaluate("window.calls") == 1
    told = "baybook.job.events().filter((event) => event.type === 'result').length"
    assert procedure.evaluate(told) == 1


TYPED = """(field, texts) => {
    for (const text of texts) {
        field.value = text;
        field.dispatchEvent(new Event("input", { bubbles: true }));
    }
}"""
COUNT = """() => {
    const call = baybook.python.call;
    baybook.python.call = function (request, options) {
        window.calls += request.method === "judge";
        return call.call(baybook.python, request, options);
    };
}"""


def test_what_is_typed_stays_while_python_starts(page: Page, book_address: str) -> None:
    page.route("**/assets/runtime/*.*.*", lambda _route: None)  # it never comes
    page.goto(f"{book_address}{PAGE}")
    unfold(page)
    field = place(page, HOLD).locator("input[type=text]")
    field.fill("19")
    page.wait_for_function("baybook.job.record() !== null")
    expect(field).to_have_value("19")
    assert page.evaluate("baybook.job.record().drafts")[HOLD]["text"] == "19"


def expect_verdict(found: Locator, outcome: str) -> None:
    expect(found.locator(".verdict")).to_have_attribute("data-si", outcome)
    expect(found.locator(".verdict-word strong")).to_have_text(outcome.upper())


def test_a_reading_that_is_too_close_says_what_would_settle_it(procedure: Page) -> None:
    found = enter(procedure, HOLD, "18.2")
    expect(found.locator(".verdict-advice")).to_have_text(
        "To settle it: repeat the reading, or use a finer gauge"
    )


def test_a_reading_may_have_a_comma_and_its_own_unit(procedure: Page) -> None:
    found = place(procedure, HOLD)
    for text in ["18,9", "18.9 inHg", "18,9 ″Hg", "18.9 in. Hg", "480 mmHg"]:
        enter(procedure, HOLD, "")
        expect(found.locator(".verdict")).to_be_hidden()
        expect_verdict(enter(procedure, HOLD, text), "pass")
        expect(found.locator(".verdict-figures")).to_contain_text("Reading 18.9 inHg")


def test_a_reading_that_cannot_be_used_gets_a_sentence_beside_its_field(procedure: Page) -> None:
    other = enter(procedure, AT_VALVE, "18")
    expect_verdict(other, "pass")
    found = enter(procedure, HOLD, "19")
    expect_verdict(found, "pass")
    for text, sentence in [
        ("19 V", "“V” is a unit of voltage; expected pressure: inHg, kPa, mmHg, mbar, hPa, psi"),
        ("31", "No vacuum can be deeper than the air pressure here, 29.9 inHg (101 kPa)."),
        ("nineteen", "“nineteen” is not a number."),
        ("1e400", "“1e400” is too large."),
    ]:
        enter(procedure, HOLD, text)
        expect(found.locator(".field-error")).to_contain_text(sentence)
        expect(found.locator("input[type=text]")).to_have_attribute("aria-invalid", "")
        expect(found.locator(".verdict")).to_be_hidden()
    expect_verdict(other, "pass")
    expect_verdict(enter(procedure, HOLD, "19"), "pass")
    expect(found.locator(".field-error")).to_be_hidden()


def test_the_units_follow_one_switch_and_are_remembered(
    page: Page, book: Path, address_of: Address
) -> None:
    page.goto(f"{address_of(book)}{PAGE}")
    unfold(page)
    limit = place(page, HOLD).locator(".observation-limit .quantity")
    expect(limit).to_have_text("18 inHg (61 kPa)")
    page.locator("[data-turn-units]").click()
    expect(limit).to_have_text("61 kPa (18 inHg)")
    page.reload()
    unfold(page)
    expect(page.locator("[data-turn-units]")).to_have_text("Metric")
    expect(limit).to_have_text("61 kPa (18 inHg)")
    found = enter(page, HOLD, "64")  # 18.9 inHg
    expect_verdict(found, "pass")
    expect(found.locator(".verdict-figures")).to_contain_text("Reading 64.0 kPa, limit at least 61")
    page.locator("[data-turn-units]").click()
    expect(found.locator(".verdict-figures")).to_contain_text("Reading 18.9 inHg, limit at least")
    expect(found.locator("select")).to_have_value("kPa")  # a reading keeps the unit it was typed in


def set_altitude(page: Page, text: str) -> None:
    page.locator(".bay summary").click()
    page.locator("#bay-altitude").fill(text)
    page.locator("#bay-altitude").press("Enter")


def test_the_altitude_changes_a_limit_that_falls_with_the_air(procedure: Page) -> None:
    found = enter(procedure, AT_VALVE, "14")
    expect_verdict(found, "fail")
    set_altitude(procedure, "1500 m")
    # 84559.7 Pa of 101325 Pa (ambiance, fluids and ussa1976 agree): 15 inHg become 12.52 inHg.
    expect_verdict(found, "pass")
    expect(found.locator(".verdict-figures")).to_contain_text("limit at least 12.5 inHg")
    procedure.reload()
    expect(procedure.locator("#bay-altitude")).to_have_value("1500 m")
    expect_verdict(found, "pass")


def test_the_altitude_leaves_a_limit_alone_that_does_not_fall_with_the_air(procedure: Page) -> None:
    set_altitude(procedure, "1500 m")
    found = enter(procedure, HOLD, "19")
    expect(found.locator(".verdict-figures")).to_contain_text("limit at least 18.0 inHg")
    enter(procedure, HOLD, "26")
    expect(found.locator(".field-error")).to_contain_text("air pressure here, 25.0 inHg (84.6 kPa)")


def test_a_question_is_judged_by_its_good_answer(procedure: Page) -> None:
    found = place(procedure, "exhaust-back.back")  # good: no
    outcome = found.locator(".observation-outcome")
    found.get_by_label("Yes").evaluate("each => each.click()")
    expect(outcome).to_have_text("FAIL")
    found.get_by_label("No", exact=False).last.evaluate("each => each.click()")
    expect(outcome).to_have_text("PASS")
    found.get_by_role("button", name="Clear").click()
    expect(outcome).to_have_text("")
    expect(found.locator("input:checked")).to_have_count(0)
