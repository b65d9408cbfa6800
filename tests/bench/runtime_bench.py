"""Measures the browser's Python: cold start by the snapshot and the plain way, and one call.

python -m tests.bench.runtime_bench
"""

import json
import statistics
import tempfile
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from http.server import ThreadingHTTPServer
from pathlib import Path

from playwright.sync_api import Browser, Page, sync_playwright
from tests.browser.conftest import ARGUMENTS, PREFIX, ROOT, PrefixHandler, chromium_path

from baybook.book.pint_quantities import unit_table_data
from baybook.runtime import build_runtime

STARTS = 7
CALLS = 500
SNAPSHOT, PLAIN = "", "?runtime=plain"
REQUEST = {"method": "run", "name": "vacuum_units", "fields": {"reading": "20 inHg"}}
PAGE = '<!doctype html><title>Bench</title><script src="python.js"></script>'

FIRST_ANSWER = """async (request) => {
    const began = performance.now();
    await baybook.python.call(request);
    return performance.now() - began;
}"""
CALL_TIMES = """async ([request, calls]) => {
    const times = [];
    for (let i = 0; i < calls; i += 1) {
        const began = performance.now();
        await baybook.python.call(request);
        times.push(performance.now() - began);
    }
    return times;
}"""


@contextmanager
def served_runtime() -> Iterator[tuple[str, str]]:
    """Serve a page with the runtime: its address over http and from the folder."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        build_runtime(folder, ROOT / ".cache" / "baybook", json.dumps(unit_table_data()))
        (folder / "page.html").write_text(PAGE)
        handler = partial(PrefixHandler, directory=name)
        with ThreadingHTTPServer(("127.0.0.1", 0), handler) as server:
            threading.Thread(target=server.serve_forever, args=(0.02,), daemon=True).start()
            yield (
                f"http://127.0.0.1:{server.server_port}{PREFIX}page.html",
                f"{folder.as_uri()}/page.html",
            )
            server.shutdown()


@contextmanager
def fresh_page(browser: Browser, address: str) -> Iterator[Page]:
    """Open an address in a fresh profile, so that nothing is in a cache."""
    context = browser.new_context()
    page = context.new_page()
    page.goto(address)
    yield page
    context.close()


def first_answer(browser: Browser, address: str) -> float:
    """Return the time from the first call in a page to its answer [ms]."""
    with fresh_page(browser, address) as page:
        return float(page.evaluate(FIRST_ANSWER, REQUEST))


def measure_starts(browser: Browser, where: str, address: str) -> None:
    """Print the cold starts, the two ways in turn so that both meet the same load."""
    snapshot, plain = [], []
    for _ in range(STARTS):
        snapshot.append(first_answer(browser, address + SNAPSHOT))
        plain.append(first_answer(browser, address + PLAIN))
    quick, slow = statistics.median(snapshot), statistics.median(plain)
    print(
        f"cold start to the first answer, {where}: snapshot {quick:.0f} ms, plain {slow:.0f} ms, "
        f"ratio {quick / slow:.2f} (medians of {STARTS} each; fastest {min(snapshot):.0f} and "
        f"{min(plain):.0f} ms)"
    )


def measure_calls(browser: Browser, address: str) -> None:
    """Print the round trip of a call, for a fresh start and after some use."""
    with fresh_page(browser, address) as page:
        page.evaluate(FIRST_ANSWER, REQUEST)
        for state in ("just started", "in use"):
            times = sorted(page.evaluate(CALL_TIMES, [REQUEST, CALLS]))
            print(
                f"round trip of a call, {state}: median {times[CALLS // 2]:.1f} ms, "
                f"95th percentile {times[CALLS * 95 // 100]:.1f} ms ({CALLS} calls)"
            )


def main() -> None:
    """Measure and print."""
    with sync_playwright() as playwright, served_runtime() as (http, file):
        browser = playwright.chromium.launch(executable_path=chromium_path(), args=ARGUMENTS)
        measure_starts(browser, "http", http)
        measure_starts(browser, "file", file)
        measure_calls(browser, http)
        browser.close()


if __name__ == "__main__":
    main()
