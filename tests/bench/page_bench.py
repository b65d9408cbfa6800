"""Measures the pages of the demo book: the answer of each calculator, and each card of a job.

python -m tests.bench.page_bench
"""

import statistics
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from http.server import ThreadingHTTPServer

from playwright.sync_api import Browser, Page, sync_playwright
from tests.bench.runtime_bench import fresh_page
from tests.browser.conftest import (
    ARGUMENTS,
    PREFIX,
    PrefixHandler,
    build_book,
    chromium_path,
    work_page,
)
from tests.browser.technician import Technician

from baybook.book.pint_quantities import unit_table_data
from baycalc import api

ENTRIES = 40
SLOWED = 4

# From the input event to the answer on the page, laid out; and the share that Python had of it.
# The page has come to rest before each entry, as it has when someone types.
ANSWER_TIMES = """async (entries) => {
    const root = document.querySelector(".calculator");
    const field = root.querySelector(".field:not([hidden]) input[type=text]");
    const usual = field.value;
    const other = Number(usual) ? String(Number(usual) * 1.01) : `${usual} `;
    let python = 0;
    const prototype = Object.getPrototypeOf(baybook.python.process);
    prototype.plainAsk ??= prototype.ask;
    prototype.ask = async function (...words) {
        const began = performance.now();
        try {
            return await this.plainAsk(...words);
        } finally {
            python = performance.now() - began;
        }
    };
    const times = [];
    const painted = () => new Promise((resolve) =>
        requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(resolve))));
    for (let entry = 0; entry < entries; entry += 1) {
        await painted();
        field.value = entry % 2 ? usual : other;
        const shown = new Promise((resolve) =>
            root.addEventListener("baybook:answer", resolve, { once: true }));
        const began = performance.now();
        field.dispatchEvent(new Event("input", { bubbles: true }));
        await shown;
        root.getBoundingClientRect();
        times.push([performance.now() - began, python]);
    }
    return times;
}"""

# From each press to the card that it leads to, laid out: the last time that the card is not busy
# before the next press. Written down by the card that was pressed on.
CARD_TIMES = """() => {
    window.cardTimes = [];
    const card = document.querySelector(".wcard");
    const press = { at: 0, on: "", done: 0 };
    const keep = () => press.done && window.cardTimes.push([press.on, press.done - press.at]);
    document.addEventListener("click", () => {
        keep();
        const on = document.documentElement.dataset.cardShown ?? "";
        Object.assign(press, { at: performance.now(), on, done: 0 });
    }, true);
    new MutationObserver(() => {
        if (card.ariaBusy !== "false") return;
        card.getBoundingClientRect();
        press.done = performance.now();
    }).observe(card, { attributes: true, attributeFilter: ["aria-busy"] });
}"""
JOB = ("secondary-air-vacuum-valve", "halden-finch", "P0411", "valve-leaks")
JOBS = 5
MOMENT = 2500
"""How long an unhurried technician looks at a card [ms]."""
COUNTED = ("network.tests", "network.faults")

READY = """() => baybook.python.start() ??
    new Promise((resolve) =>
        baybook.python.onStatus((status) => status === "ready" && resolve()))"""

# The same work on the page's own thread and in a worker.
SPIN = """async () => {
    const spin = () => {
        const began = performance.now();
        for (let turn = 0, sum = 0; turn < 3e7; turn += 1) sum += turn % 7;
        return performance.now() - began;
    };
    const source = `onmessage = () => postMessage((${spin})())`;
    const worker = new Worker(URL.createObjectURL(new Blob([source])));
    const there = new Promise((resolve) => { worker.onmessage = ({ data }) => resolve(data); });
    worker.postMessage(0);
    const inWorker = await there;
    return [spin(), inWorker];
}"""


@contextmanager
def served_book() -> Iterator[str]:
    """Serve the demo book; return the address of its root."""
    handler = partial(PrefixHandler, directory=str(build_book()))
    with ThreadingHTTPServer(("127.0.0.1", 0), handler) as server:
        threading.Thread(target=server.serve_forever, args=(0.02,), daemon=True).start()
        yield f"http://127.0.0.1:{server.server_port}{PREFIX}"
        server.shutdown()


def slow_down(page: Page, rate: float) -> None:
    """Slow the page's own thread down."""
    session = page.context.new_cdp_session(page)
    session.send("Emulation.setCPUThrottlingRate", {"rate": rate})


def percentile(times: list[float], share: float) -> float:
    return sorted(times)[round(share * (len(times) - 1))]


def measure_slowing(browser: Browser, address: str) -> None:
    """Print whether the slow-down of Chromium reaches a worker."""
    with fresh_page(browser, f"{address}index.html") as page:
        usual = page.evaluate(SPIN)
        slow_down(page, SLOWED)
        slowed = page.evaluate(SPIN)
    own, worker = (after / before for before, after in zip(usual, slowed, strict=True))
    print(
        f"Chromium's slow-down by {SLOWED} slows the page's own thread {own:.1f} times and a "
        f"worker {worker:.1f} times; Python runs in a worker"
    )


def measure_calculator(browser: Browser, address: str, name: str) -> dict[str, list[float]]:
    """Return the times of a calculator's answers at each speed [ms]."""
    with fresh_page(browser, f"{address}calculators/{name}.html") as page:
        page.evaluate(READY)
        page.evaluate(ANSWER_TIMES, ENTRIES)
        usual = page.evaluate(ANSWER_TIMES, ENTRIES)
        slow_down(page, SLOWED)
        slowed = page.evaluate(ANSWER_TIMES, ENTRIES)
    return {
        "usual": [whole for whole, _ in usual],
        "slowed": [whole for whole, _ in slowed],
        "all slowed": [
            whole - python + SLOWED * own
            for (whole, python), (_, own) in zip(slowed, usual, strict=True)
        ],
    }


def measure_calculators(browser: Browser, address: str) -> None:
    """Print the time from an entry to the answer on the page, for each calculator."""
    api.install(unit_table_data())
    print(
        f"calculators, from the input event to the answer on the page, {ENTRIES} entries each:\n"
        f"{'median / 95th percentile [ms]':36}usual speed    page slowed {SLOWED}x   all slowed "
        f"{SLOWED}x (computed)"
    )
    worst = dict.fromkeys(("usual", "slowed", "all slowed"), 0.0)
    for name in api.names():
        found = measure_calculator(browser, address, name)
        cells = []
        for speed, times in found.items():
            high = percentile(times, 0.95)
            worst[speed] = max(worst[speed], high)
            cells.append(f"{statistics.median(times):5.1f} / {high:5.1f}")
        print(f"  {name:34}{'    '.join(cells)}")
    print(
        f"  {'worst 95th percentile':34}{'    '.join(f'{each:13.1f}' for each in worst.values())}"
    )


class Unhurried(Technician):
    """Looks at each card for a moment, as one who works on a car does at least."""

    def press(self, selector: str) -> None:
        self.page.wait_for_timeout(MOMENT)
        super().press(selector)


def measure_cards(browser: Browser, address: str, hands: type[Technician]) -> None:
    """Print the time from a press to the next card, over whole jobs of the largest procedure."""
    procedure, car, code, fault = JOB
    found: dict[str, list[float]] = {}
    for _ in range(JOBS):
        with fresh_page(browser, f"{address}{work_page(procedure, car)}&code={code}") as page:
            page.evaluate(READY)
            technician = hands(page, {fault}, hands="mouse")
            page.evaluate(CARD_TIMES)
            technician.begin("AB 123")
            technician.work()
            for card, taken in page.evaluate("window.cardTimes"):
                found.setdefault(card, []).append(taken)
            tests, faults = (len(page.evaluate(f"baybook.data.page.{of}")) for of in COUNTED)
    print(
        f"cards, from the press to the next card, {JOBS} jobs of {tests} tests and {faults} "
        f"faults, {hands.__name__.lower()}:\n{'median / 95th percentile [ms]':36}presses"
    )
    for card, times in found.items():
        told = f"{statistics.median(times):5.1f} / {percentile(times, 0.95):5.1f}"
        print(f"  {card:34}{told}{len(times):8}")
    every = [taken for times in found.values() for taken in times]
    told = f"{statistics.median(every):5.1f} / {percentile(every, 0.95):5.1f}"
    print(f"  {'all cards':34}{told}{len(every):8}")


def main() -> None:
    """Measure and print."""
    with sync_playwright() as playwright, served_book() as address:
        browser = playwright.chromium.launch(executable_path=chromium_path(), args=ARGUMENTS)
        measure_slowing(browser, address)
        measure_calculators(browser, address)
        measure_cards(browser, address, Technician)
        measure_cards(browser, address, Unhurried)
        browser.close()


if __name__ == "__main__":
    main()
