"""Measures the pages of the demo book: the answer of each calculator.

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
from tests.browser.conftest import ARGUMENTS, PREFIX, PrefixHandler, build_book, chromium_path

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


def main() -> None:
    """Measure and print."""
    with sync_playwright() as playwright, served_book() as address:
        browser = playwright.chromium.launch(executable_path=chromium_path(), args=ARGUMENTS)
        measure_slowing(browser, address)
        measure_calculators(browser, address)
        browser.close()


if __name__ == "__main__":
    main()
