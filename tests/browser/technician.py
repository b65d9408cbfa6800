"""A technician with a car that has hidden faults: works the cards of a job through."""

from typing import Any

from playwright.sync_api import Page, expect

from baybook.book.pint_quantities import unit_table_data

MOST_CARDS = 70
"""A job that takes more cards than this goes round in circles."""

SHOWN = """() => {
    const root = document.documentElement;
    const card = document.querySelector('.wcard');
    const dock = document.querySelector('.dock');
    return root.classList.contains('working') && card.ariaBusy === 'false' && !dock.hidden
        && root.dataset.cardShown;
}"""
ENTERED = """name => baybook.job.sinceRepair().some(
    (event) => name === `${event.test}.${event.observation}`)"""
ACT = ".dock [data-dock]:not([hidden]) .act"


PRICE = "48.50"
"""What every part costs."""


class Technician:
    """Works on a page by touch, by mouse, or by keys alone.

    A fault shows in every observation that lists it with a chance of at least one half. A fault
    that a repair sets off comes when that repair is done.
    """

    def __init__(
        self,
        page: Page,
        faults: set[str],
        sets_off: dict[str, str] | None = None,
        hands: str = "touch",
    ) -> None:
        self.page = page
        self.faults = set(faults)
        self.sets_off = sets_off or {}
        self.hands = hands
        self.taps = 0
        self.steps: list[str] = []
        data = page.evaluate("baybook.data.page")
        self.tests = {test["id"]: test for test in data["network"]["tests"]}

    def press(self, selector: str) -> None:
        """Press something that is in sight."""
        self.taps += 1
        place = self.page.locator(selector).locator("visible=true").first
        expect(place).to_be_in_viewport()
        if self.hands == "touch":
            place.tap()
        elif self.hands == "mouse":
            place.click()
        else:
            place.focus()
            self.page.keyboard.press("Enter")

    def main_act(self) -> None:
        """Do what the card is for."""
        if self.hands == "keys":
            self.taps += 1
            self.page.keyboard.press("Enter")
        else:
            self.press(ACT)

    def begin(self, plate: str) -> None:
        """Start a job for a car."""
        self.page.locator("[data-start-job]").scroll_into_view_if_needed()
        self.press("[data-start-job]")
        self.page.locator("[data-job-car=plate]").fill(plate)
        self.press(ACT)

    def work(self, until: str = "closed") -> None:
        """Do card after card until one of a kind comes."""
        for _ in range(MOST_CARDS):
            card = self.card()
            if card == until:
                return
            self.steps.append(self.name_of(card))
            getattr(self, card.replace("-", "_"), self.main_act)()
        raise AssertionError(f"the job does not end: {self.steps}")

    def card(self) -> str:
        """Return the card that is shown, once the page has made up its mind."""
        self.page.wait_for_function(SHOWN, polling=30)
        return str(self.page.evaluate("document.documentElement.dataset.cardShown"))

    def name_of(self, card: str) -> str:
        test = self.page.locator(".test.now")
        return f"{card} {test.get_attribute('data-test')}" if test.count() else card

    def test(self) -> None:
        test = str(self.page.locator(".test.now").get_attribute("data-test"))
        if self.page.locator("[data-dock=done]").is_visible():
            self.main_act()
        elif self.page.locator("[data-dock=reading]").is_visible():
            self.reading(test)
        else:
            self.question(test)

    def open_observation(self, test: str) -> Any:
        """Return what the dock asks for now."""
        asked = self.page.locator("[data-job=ask]:visible, [data-job=ask-reading]:visible")
        text = asked.inner_text().strip()
        seen = {each["says"]: each for each in self.tests[test]["observations"]}
        return seen[text]

    def outcome(self, observation: Any) -> str:
        """Return the outcome that the hidden faults bring: a band, or normal."""
        for band in observation["bands"]:
            if any(band["shows"].get(fault, 0) >= 0.5 for fault in self.faults):
                return str(band["id"])
        return "normal"

    def question(self, test: str) -> None:
        observation = self.open_observation(test)
        outcome = self.outcome(observation)
        if len(observation["bands"]) > 1:
            self.press(f"[data-answer={outcome}]")
            return
        selector = (
            "[data-answer]:has(.odd)" if outcome != "normal" else "[data-answer]:not(:has(.odd))"
        )
        if self.hands != "keys":
            self.press(selector)
            return
        self.taps += 1
        answers = self.page.locator(".dock [data-dock]:not([hidden]) .answer")
        wanted = self.page.locator(selector).locator("visible=true").get_attribute("data-answer")
        order = [each.get_attribute("data-answer") for each in answers.all()]
        self.page.keyboard.press(str(order.index(wanted) + 1))

    def reading(self, test: str) -> None:
        observation = self.open_observation(test)
        name = f"{test}.{observation['id']}"
        limit = self.page.evaluate(LIMIT, name)
        value = figure(limit, self.outcome(observation) != "normal")
        field = self.page.locator("#dock-reading")
        field.fill(value)
        if self.hands == "keys":
            self.taps += 1
            field.press("Enter")
        else:
            self.press("[data-act=take]")
        self.page.wait_for_function(ENTERED, arg=name, polling=30)

    def close_call(self) -> None:
        self.press("[data-act=leave-open]")

    def fit(self) -> None:
        self.page.locator("[data-price]").fill(PRICE)
        self.main_act()
        fault = self.page.evaluate("baybook.job.events().at(-1).fault")
        self.steps.append(f"repaired {fault}")
        self.faults.discard(fault)
        if fault in self.sets_off:
            self.faults.add(self.sets_off[fault])

    def prove(self) -> None:
        self.press("[data-act=not-cured]" if self.faults else "[data-act=cured]")

    def outside(self) -> None:
        self.press("[data-act=outside-not]")


LIMIT = """name => {
    const place = document.querySelector(`[data-observation="${name}"]`);
    const judge = JSON.parse(place.dataset.judge);
    const found = place.dataset.limit ? baybook.car.place(place.dataset.limit) : {};
    const [low, high] = [found.low ?? judge.low ?? null, found.high ?? judge.high ?? null];
    return { ...judge, ...found, low, high };
}"""


def figure(judge: dict[str, Any], shown: bool) -> str:
    """Return a reading clearly inside the limit, or clearly outside, as it is typed."""
    low, high = judge["low"], judge["high"]
    above = 1.25 if judge["reference"] == "vacuum" else 2  # no vacuum is deeper than the air
    if shown:
        value = high * 2.5 if high else low * 0.3
    elif low and high:
        value = (low + high) / 2
    else:
        value = low * above if low else high * 0.4
    symbol = unit_table_data()[judge["kind"]]["si"]
    return f"{value * 100:.6g} %" if symbol == "1" else f"{value:.6g} {symbol}"
