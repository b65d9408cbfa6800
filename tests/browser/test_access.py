"""The pages for every reader: axe-core finds no fault, light and dark, wide and on a phone."""

import json
import subprocess
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page
from tests.browser.conftest import uri_of, work_page
from tests.browser.packages import node_modules
from tests.browser.technician import Technician

from baybook.runtime.node import find_node

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

RUN_AXE = """axe.run(document, {
    resultTypes: ["violations"], rules: {"target-size": {enabled: true}}})"""
"""All of WCAG 2.2 AA and axe's own good practice; it leaves out the size of targets by itself."""


@pytest.fixture(scope="session")
def axe() -> str:
    """The text of axe-core, as package-lock.json pins it."""
    return axe_text()


def axe_text() -> str:
    return (node_modules() / "axe-core" / "axe.min.js").read_text()


def violations(page: Page, axe: str) -> list[str]:
    """Run axe-core in a page; return what it found, one line each."""
    page.evaluate(axe)
    found = page.evaluate(RUN_AXE)
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
    page.goto(f"{book_address}{work_page('oxygen-sensor-heater', 'quillon-tarn')}&code=P0135")
    technician = Technician(page, {"fuse-blown"}, hands="mouse")
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


def html_faults(folder: Path, uris: Iterable[str]) -> list[str]:
    """Hold pages against the HTML standard by html-validate; return what it found."""
    node, program = find_node().node, node_modules() / "html-validate" / "bin" / "html-validate.mjs"
    rules = Path(__file__).parent / "html-validate.json"
    command = [node, program, "--config", rules, "--formatter", "json", *uris]
    done = subprocess.run(command, cwd=folder, capture_output=True, text=True, check=False)
    assert done.returncode in (0, 1), done.stderr
    return [
        f"{Path(each['filePath']).relative_to(folder)}:{found['line']}: {found['message']}"
        for each in json.loads(done.stdout)
        for found in each["messages"]
    ]


def test_pages_keep_to_the_html_standard(book: Path, tmp_path: Path) -> None:
    assert html_faults(book, [uri_of(uri).partition("?")[0] for uri in PAGES]) == []
    (tmp_path / "bad.html").write_text("<!doctype html><title>x</title><p><div></div></p>")
    assert html_faults(tmp_path, ["bad.html"]) != []


ANIMATED = "document.getAnimations().filter((each) => each.playState === 'running').length"
TOO_WIDE = "document.documentElement.scrollWidth > document.documentElement.clientWidth"


def test_a_narrow_page_in_forced_colors_without_motion(
    new_page: Callable[..., Page], book_address: str
) -> None:
    """WCAG 2.2, 1.4.10: 320 pixels stand for a page of 1280 at 400 per cent."""
    page = new_page(
        viewport={"width": 320, "height": 256}, forced_colors="active", reduced_motion="reduce"
    )
    found = {}
    for uri in PAGES:
        page.goto(f"{book_address}{uri_of(uri)}")
        lines = ["wider than the window"] if page.evaluate(TOO_WIDE) else []
        lines += ["moves"] if page.evaluate(ANIMATED) else []
        if lines:
            found[uri] = lines
    assert found == {}
