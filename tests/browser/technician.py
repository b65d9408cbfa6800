"""A technician at the keyboard: works a procedure's page through on a car with hidden faults."""

import json
from typing import Any

from playwright.sync_api import Locator, Page, expect
from tests.browser.conftest import tab_to

from baybook.book.pint_quantities import unit_table

MOST_STEPS = 30
"""A job that takes more steps than this goes round in circles."""


class Technician:
    """Works on a page; nothing is clicked.

    A fault shows in every observation that lists it with a chance of at least one half. A fault
    that a repair sets off comes when that repair is done.
    """

    def __init__(self, page: Page, faults: set[str], sets_off: dict[str, str]) -> None:
        self.page = page
        self.faults = set(faults)
        self.sets_off = sets_off
        self.steps: list[str] = []
        self.questions: list[str] = []
        self.network = procedure_data(page)["network"]
        self.tests = {test["id"]: test for test in self.network["tests"]}

    def tick(self, code: str) -> None:
        tab_to(self.page, f"[data-code={code}]")
        self.page.keyboard.press("Space")
        tab_to(self.page, ".codes-onward a")
        self.page.keyboard.press("Enter")

    def work(self) -> None:
        """Do what the panel asks for until the job can be closed."""
        for _ in range(MOST_STEPS):
            if self.step() == "close":
                return
        raise AssertionError(f"the job does not end: {self.steps}")

    def step(self) -> str:
        """Do the one thing that the panel asks for now; return its kind."""
        answer = panel_answer(self.page)
        move = answer["next"]
        self.steps.append(f"{move['kind']} {move['id']}".strip())
        self.questions += [question["sentence"] for question in answer["open_questions"]]
        if move["kind"] == "test":
            self.test(move["id"])
        elif move["kind"] == "repair":
            self.repair(move["id"])
        elif move["kind"] == "recheck":
            self.press("Not cured" if self.faults else "Cured")
        return str(move["kind"])

    def test(self, name: str) -> None:
        tab_to(self.page, f".job-next a[href='#{name}']")
        self.page.keyboard.press("Enter")
        for observation in self.tests[name]["observations"]:
            shown = any(observation["shows"].get(fault, 0) >= 0.5 for fault in self.faults)
            self.answer(f"{name}.{observation['id']}", shown)
        tab_to(self.page, f"[data-test={name}] .test-skip a")
        self.page.keyboard.press("Enter")

    def answer(self, seen: str, shown: bool) -> None:
        place = self.page.locator(f"[data-observation='{seen}']")
        tab_to(self.page, f"[data-observation='{seen}'] input")
        outcome = "fail" if shown else "pass"
        if judge := place.get_attribute("data-judge"):
            self.page.keyboard.type(reading(json.loads(judge), shown))
            expect(place.locator(".verdict")).to_have_attribute("data-si", outcome)
        else:
            yes = (place.get_attribute("data-good") == "yes") != shown
            self.page.keyboard.press("Space" if yes else "ArrowDown")
            expect(place.locator(".observation-outcome")).to_have_text(outcome.upper())

    def repair(self, fault: str) -> None:
        self.press("It is repaired")
        self.faults.discard(fault)
        if fault in self.sets_off:
            self.faults.add(self.sets_off[fault])

    def press(self, text: str) -> None:
        button(self.page, text)
        self.page.keyboard.press("Enter")


def procedure_data(page: Page) -> Any:
    return page.evaluate("baybook.data.page")


def button(page: Page, text: str) -> Locator:
    """Press Tab until the button of the panel with a text has the focus."""
    found = page.locator(".job-next").get_by_role("button", name=text, exact=True)
    expect(found).to_be_visible()
    found.evaluate("each => { each.dataset.wanted = ''; }")
    tab_to(page, "[data-wanted]")
    return found


def panel_answer(page: Page) -> Any:
    """Return what the panel shows once it has taken in the last entry."""
    page.wait_for_function(
        "() => window.believed && !document.querySelector('.bench-panel-busy')", polling=50
    )
    return page.evaluate("window.believed")


def reading(judge: dict[str, Any], shown: bool) -> str:
    """Return a reading clearly inside the limit, or clearly outside, as it is typed."""
    low, high = judge["low"], judge["high"]
    above = 1.25 if judge["reference"] == "vacuum" else 2  # no vacuum is deeper than the air
    if shown:
        value = low * 0.3 if low else high * 2.5
    elif low and high:
        value = (low + high) / 2
    else:
        value = low * above if low else high * 0.4
    return f"{value:.6g} {unit_table().si_symbol(judge['kind'])}"
