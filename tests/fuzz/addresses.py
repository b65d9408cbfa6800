"""Mutated addresses of the small book's pages: no script may fail, whatever the query says."""

import random
import tempfile
from pathlib import Path
from urllib.parse import quote, urlencode

from playwright.sync_api import Page, sync_playwright
from tests.browser.conftest import ARGUMENTS, chromium_path
from tests.browser.small_book import build, lay_out

from baycalc import api

ODD = (
    "", " ", "__proto__", "constructor", "toString", "furlong", "inHg", "1e400", "-1", "½", "NaN",
    "20 inHg", "true", "maybe", "P0411", "P9999", "car", "my-car", "<img src=x onerror=alert(1)>",
    "javascript:alert(1)", "%00", "\u202e", "a" * 3000, "../..", "[object Object]", "null",
)  # fmt: skip


def fuzz_addresses(count: int, seed: int) -> list[str]:
    """Return what went wrong for a number of addresses."""
    dice = random.Random(seed)
    with tempfile.TemporaryDirectory() as name, sync_playwright() as playwright:
        site = build(lay_out(Path(name)))
        pages = sorted(path.relative_to(site).as_posix() for path in site.rglob("*.html"))
        pages = [page for page in pages if not page.startswith(("authors/", "indexes/"))]
        browser = playwright.chromium.launch(executable_path=chromium_path(), args=ARGUMENTS)
        page = browser.new_page()
        # Python is not what is tried: starting it takes most of the time.
        page.route("**/assets/runtime/*.*.js", lambda route: route.abort())
        errors: list[str] = []
        page.on("pageerror", lambda error: errors.append(str(error)[:300]))
        page.on("dialog", lambda dialog: (errors.append(dialog.message), dialog.dismiss()))
        found = [
            problem
            for _ in range(count)
            if (problem := _visit(page, f"{site.as_uri()}/{_address(dice, pages)}", errors))
        ]
        browser.close()
    return found


def _address(dice: random.Random, pages: list[str]) -> str:
    page = dice.choice(pages)
    names = ["code", "car", "runtime", "units", "q", "sheet", "__proto__", dice.choice(ODD)]
    if page.startswith("calculators/") and not page.endswith("index.html"):
        for entry in api.describe(Path(page).stem).inputs:
            names += [entry.id, f"{entry.id}.unit"]
    query = [(dice.choice(names), dice.choice(ODD)) for _ in range(dice.randint(0, 6))]
    mark = dice.choice(("", "", f"#{quote(dice.choice(ODD)[:50])}"))
    return f"{page}?{urlencode(query)}{mark}"


def _visit(page: Page, address: str, errors: list[str]) -> str:
    errors.clear()
    page.goto(address)
    page.evaluate("() => new Promise((resolve) => setTimeout(resolve))")
    return f"{address[-300:]}: {errors[0]}" if errors else ""
