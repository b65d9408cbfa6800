"""The pages for every reader: axe-core finds no fault, light and dark, wide and on a phone."""

import shutil
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page
from tests.browser.conftest import uri_of, work_page
from tests.browser.technician import Technician
from tests.kept import KEPT, one_maker

from baybook.runtime.node import find_node, run

HERE = Path(__file__).parent
NPM_FILES = ("package.json", "package-lock.json", ".npmrc")
PROCEDURE = "vacuum-supply for halden-finch"
PAGES = (
    "index.html",
    PROCEDURE,
    "procedures/vacuum-supply/index.html",
    "calculators/vacuum_hold.html",
    "calculators/monitor_status.html",
    "indexes/codes.html",
    "bench-sheets.html",
    "authors/text.html",
    "404.html",
)


@pytest.fixture(scope="session")
def axe() -> str:
    """The text of axe-core, installed by npm once, as package-lock.json pins it."""
    lock = (HERE / "package-lock.json").read_text()
    version = lock.split('node_modules/axe-core": {')[1].split('"version": "')[1].split('"')[0]
    installed = KEPT / f"axe-core-{version}"
    with one_maker():
        if not installed.exists():
            with tempfile.TemporaryDirectory(dir=KEPT) as folder:
                for name in NPM_FILES:
                    shutil.copy(HERE / name, folder)
                run([*find_node().npm, "ci", "--ignore-scripts"], Path(folder))
                (Path(folder) / "node_modules" / "axe-core").rename(installed)
    return (installed / "axe.min.js").read_text()


def violations(page: Page, axe: str) -> list[str]:
    """Run axe-core in a page; return what it found, one line each."""
    page.evaluate(axe)
    found = page.evaluate("axe.run(document, {resultTypes: ['violations']})")
    return [line for each in found["violations"] for line in lines_of(each)]


def lines_of(violation: dict[str, Any]) -> list[str]:
    return [
        f"{violation['id']}: {node['html'][:150]} ({node['failureSummary'].splitlines()[-1]})"
        for node in violation["nodes"][:3]
    ]


@pytest.mark.parametrize(("width", "scheme"), [(390, "light"), (1280, "dark")])
def test_axe_finds_nothing_on_any_card_of_a_job(
    new_page: Callable[..., Page], book_address: str, axe: str, scheme: str, width: int
) -> None:
    page = new_page(
        color_scheme=scheme, viewport={"width": width, "height": 844}, reduced_motion="reduce"
    )
    page.goto(f"{book_address}{work_page('secondary-air-vacuum-valve', 'halden-finch')}&code=P0411")
    technician = Technician(page, {"valve-leaks"}, hands="mouse")
    page.locator("[data-start-job]").click()
    found = {"car": violations(page, axe)}
    page.locator("[data-act=begin]").click()
    for _ in range(40):
        card = technician.card()
        if card not in found:
            found[card] = violations(page, axe)
        if card == "closed":
            break
        getattr(technician, card.replace("-", "_"), technician.main_act)()
    assert {"codes", "safety", "opening", "test", "found", "fit", "prove", "close"} <= found.keys()
    assert {card: lines for card, lines in found.items() if lines} == {}


@pytest.mark.parametrize("width", [1280, 390])
@pytest.mark.parametrize("scheme", ["light"])
def test_axe_finds_nothing(
    new_page: Callable[..., Page], book_address: str, axe: str, scheme: str, width: int
) -> None:
    page = new_page(
        color_scheme=scheme, viewport={"width": width, "height": 844}, reduced_motion="reduce"
    )
    found = {}
    for uri in PAGES:
        page.goto(f"{book_address}{uri_of(uri)}")
        if lines := violations(page, axe):
            found[uri] = lines
    assert found == {}
