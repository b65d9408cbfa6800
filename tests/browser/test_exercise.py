"""An exercise on the page: from its link to the result file, by keys on a phone's size."""

import json
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, expect
from tests.browser.conftest import work_page
from tests.browser.test_access import axe_text, violations
from tests.build.pages.whole import whole

from baycalc.exercise.result_file import read_result, replay
from baycalc.exercise.seal import seal
from baycalc.exercise.setting import Exercise
from baycalc.isolation.model.bayes_net import Model
from baycalc.isolation.model.read_network import from_data

PROCEDURE, CAR = "oxygen-sensor-heater", "quillon-tarn"
TAKEN = re.compile(r"baybook\.take\.exercise\((.*)\);", re.S)


@pytest.fixture
def asked(book: Path) -> dict[str, Any]:
    """What the page reads of its car when an exercise is opened."""
    file = book / "assets" / "exercises" / f"{PROCEDURE}.js"
    found = TAKEN.match(file.read_text("utf-8"))
    assert found
    once = json.loads(found[1])
    return dict(whole(once["data"][CAR], once["values"]))


def link(address: str, asked: dict[str, Any], car: str = CAR) -> str:
    """Return the link of an exercise with a blown fuse, with help on demand."""
    token = seal(
        Exercise(PROCEDURE, car, asked["network"], 5, ("fuse-blown",), None, "on-demand", 58, 132)
    )
    return f"{address}{work_page(PROCEDURE, CAR)}#exercise={token}"


def press(page: Page, name: str) -> None:
    """Press a choice by keys."""
    page.get_by_role("button", name=name).first.focus()
    page.keyboard.press("Enter")


def heading(page: Page, text: str) -> None:
    """Wait for a card; its heading has the focus."""
    expect(page.locator(":focus")).to_have_text(text)


@pytest.mark.usefixtures("calculators")
def test_an_exercise_from_its_link_to_its_result(
    new_page: Callable[..., Page], book_address: str, asked: dict[str, Any]
) -> None:
    axe = axe_text()
    page = new_page(
        viewport={"width": 390, "height": 844}, accept_downloads=True, reduced_motion="reduce"
    )
    page.goto(link(book_address, asked))
    heading(page, "Exercise")
    assert violations(page, axe) == []
    page.locator("[data-exercise=student]").fill("Ada")
    page.keyboard.press("Enter")
    heading(page, "What is done next?")
    press(page, "Fuse of the heaters")
    heading(page, "Fuse of the heaters")
    expect(page.locator(".now .observations")).to_be_hidden()
    assert violations(page, axe) == []
    page.locator(".now .test-text a").first.click()
    heading(page, "Leads by eye and hand")
    page.get_by_role("button", name="Choose another").click()
    press(page, "Fuse of the heaters")
    heading(page, "Fuse of the heaters")
    page.keyboard.press("Enter")
    expect(page.locator(".answered .leaders")).to_contain_text("Is the fuse whole?No")
    clock = page.locator("[data-job=spent]").inner_text()
    page.reload()
    expect(page.locator(".answered .leaders")).to_contain_text("Is the fuse whole?No")
    assert page.locator("[data-job=spent]").inner_text() == clock
    assert violations(page, axe) == []
    press(page, "Ask for help")
    expect(page.locator(".made")).to_contain_text("Help asked for")
    press(page, "Heater fuse is blown")
    heading(page, "The fuse")
    page.keyboard.press("Enter")
    press(page, "Prove the repair")
    expect(page.locator(".answered")).to_contain_text("The complaint is gone")
    press(page, "Close the job")
    heading(page, "The exercise has ended")
    assert violations(page, axe) == []
    assert page.evaluate("document.documentElement.scrollWidth") == 390
    with page.expect_download() as download:
        page.keyboard.press("Enter")
    assert download.value.suggested_filename == "oxygen-sensor-heater-ada.json"
    text = Path(download.value.path()).read_text("utf-8")
    assert page.evaluate("baybook.store.records()") == []
    model = Model(from_data(page.evaluate("baybook.data.page.network")))
    played = replay(model, asked["readings"], read_result(text))
    assert played.differences == ()
    assert played.marks
    assert played.marks.right
    assert f"{played.marks.total} of 100 points" in page.locator(".made").inner_text()
    forged = text.replace(f'"total": {played.marks.total}', '"total": 100')
    assert replay(model, asked["readings"], read_result(forged)).differences != ()


def test_a_link_that_is_damaged_or_of_another_car_is_told(
    new_page: Callable[..., Page], book_address: str, asked: dict[str, Any]
) -> None:
    page = new_page()
    page.goto(link(book_address, asked)[:-4])
    expect(page.get_by_role("alert")).to_contain_text("This link to an exercise is damaged")
    page.goto(link(book_address, asked, car="sorrelby-wren"))
    expect(page.get_by_role("alert")).to_contain_text("This exercise is of another car")
    page = new_page()  # the other one remembers its car
    page.goto(link(book_address, asked).replace(f"?car={CAR}", ""))
    expect(page.get_by_role("alert")).to_contain_text("Open this exercise by its whole link")
