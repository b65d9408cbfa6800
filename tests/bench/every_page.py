"""Holds every page against WCAG 2.2 AA, the HTML standard and a window of 320 pixels.

python -m tests.bench.every_page
"""

from collections.abc import Iterator
from typing import Any

from playwright.sync_api import Browser, sync_playwright
from tests.bench.page_bench import served_book
from tests.browser.conftest import ARGUMENTS, build_book, chromium_path
from tests.browser.test_access import TOO_WIDE, axe_text, html_faults, violations
from tests.browser.test_every_page import pages_of

READERS: dict[str, dict[str, Any]] = {
    "PC, light": {"viewport": {"width": 1280, "height": 900}},
    "phone, dark": {"viewport": {"width": 390, "height": 844}, "color_scheme": "dark"},
    "320 pixels, forced colors": {
        "viewport": {"width": 320, "height": 256},
        "forced_colors": "active",
    },
}


def faults(browser: Browser, address: str, options: dict[str, Any]) -> Iterator[str]:
    """Find what is wrong with any page for one kind of reader."""
    axe = axe_text()
    page = browser.new_page(reduced_motion="reduce", **options)
    for uri in pages_of(build_book()):
        answer = page.goto(f"{address}{uri}")
        assert answer and answer.ok, f"{uri} is not served"
        yield from (f"{uri}: {line}" for line in violations(page, axe))
        if page.evaluate(TOO_WIDE):
            yield f"{uri}: wider than the window"
    page.close()


def tell(what: str, found: list[str]) -> None:
    """Print a count, and the first few faults."""
    print(f"{what}: {len(found)} faults", *found[:10], sep="\n  ", flush=True)


def main() -> None:
    """Check and print."""
    book = build_book()
    uris = pages_of(book)
    tell(f"HTML standard, {len(uris)} pages", html_faults(book, uris))
    with sync_playwright() as playwright, served_book() as address:
        browser = playwright.chromium.launch(executable_path=chromium_path(), args=ARGUMENTS)
        for reader, options in READERS.items():
            tell(
                f"WCAG 2.2 AA, {len(uris)} pages, {reader}",
                [*faults(browser, address, options)],
            )
        browser.close()


if __name__ == "__main__":
    main()
