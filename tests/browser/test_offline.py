"""The book without a network, kept by its service worker; the policy of its pages."""

import json
import re
import shutil
import threading
from collections.abc import Iterator
from functools import partial
from http.server import ThreadingHTTPServer
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, expect
from tests.browser.conftest import PREFIX, PrefixHandler
from tests.browser.small_book import build, lay_out
from tests.browser.test_every_page import VIOLATIONS


class ClosingHandler(PrefixHandler):
    """Closes each connection, so that nothing is answered once the server has gone."""

    protocol_version = "HTTP/1.0"


class Host:
    """A host of one site, which can be taken off the network and given another edition."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.server: ThreadingHTTPServer | None = None
        self.port = 0
        self.start()

    def start(self) -> None:
        handler = partial(ClosingHandler, directory=str(self.folder))
        self.server = ThreadingHTTPServer(("127.0.0.1", self.port), handler)
        self.server.daemon_threads = True
        self.port = self.server.server_port
        threading.Thread(target=self.server.serve_forever, args=(0.02,), daemon=True).start()

    def stop(self) -> None:
        if self.server:
            self.server.shutdown()
            self.server.server_close()
            self.server = None

    @property
    def address(self) -> str:
        return f"http://127.0.0.1:{self.port}{PREFIX}"


@pytest.fixture(scope="module")
def editions(tmp_path_factory: pytest.TempPathFactory) -> list[Path]:
    """Two editions of a small book, which differ in the title of their procedure."""
    book = lay_out(tmp_path_factory.mktemp("book"))
    return [build(book, title) for title in ("Air pump", "Air blower")]


@pytest.fixture
def host(editions: list[Path], tmp_path: Path) -> Iterator[Host]:
    host = Host(Path(shutil.copytree(editions[0], tmp_path / "site")))
    yield host
    host.stop()


def publish(host: Host, edition: Path) -> None:
    """Put another edition in the place of the one that the host serves."""
    shutil.rmtree(host.folder)
    shutil.copytree(edition, host.folder)


def keep(page: Page, host: Host) -> None:
    """Keep the book by its button."""
    page.goto(f"{host.address}index.html")
    page.get_by_role("button", name="Keep the book on this device").click()
    expect(page.get_by_text("The book is kept: it opens without a network.")).to_be_visible()


def computes(page: Page, address: str) -> None:
    page.goto(f"{address}calculators/vacuum_units.html")
    page.locator("[name=reading]").fill("7")
    expect(page.locator(".links a").first).to_have_attribute("href", re.compile("start=7"))


def test_a_kept_book_works_with_the_server_gone(
    page: Page, host: Host, editions: list[Path]
) -> None:
    keep(page, host)
    host.stop()
    names = [path.relative_to(editions[0]).as_posix() for path in editions[0].rglob("*.html")]
    for name in {name.rpartition("/")[0]: name for name in sorted(names)}.values():
        answer = page.goto(f"{host.address}{name}?with=query")
        assert answer
        assert answer.status == 200, name
        assert page.title()
    computes(page, host.address)
    page.goto(host.address)
    expect(page.locator("h1")).to_contain_text("Home")


@pytest.mark.usefixtures("errors_expected")
def test_a_page_that_the_book_does_not_have_is_said_without_a_network(
    page: Page, host: Host
) -> None:
    keep(page, host)
    host.stop()
    answer = page.goto(f"{host.address}no-such-page.html")
    assert answer
    assert answer.status == 404
    expect(page.locator("h1")).to_have_text("This page is not in the book")


def test_a_new_edition_is_offered_and_two_windows_lose_nothing(
    page: Page, host: Host, editions: list[Path]
) -> None:
    keep(page, host)
    procedure = f"{host.address}procedures/air/index.html"
    other = page.context.new_page()
    other.goto(f"{host.address}calculators/vacuum_units.html")
    other.locator("[name=reading]").fill("7")
    publish(host, editions[1])
    page.goto(procedure)
    offer = page.locator("[data-update]")
    expect(offer).to_be_visible()
    expect(page.locator("h1")).to_contain_text("Air pump")  # the old edition, until it is taken
    page.get_by_role("button", name="Use it now").click()
    expect(page.locator("h1")).to_contain_text("Air blower")
    # The other window was not touched: its entry stands, and its Python starts anew.
    assert other.locator("[name=reading]").input_value() == "7"
    other.evaluate("baybook.python.stop()")
    other.locator("[name=reading]").fill("8")
    other.wait_for_function("baybook.python.status === 'ready'")


def test_nothing_is_kept_before_it_is_asked_for(page: Page, host: Host) -> None:
    page.goto(f"{host.address}index.html")
    expect(page.get_by_role("button", name="Keep the book on this device")).to_be_visible()
    assert (
        page.evaluate("navigator.serviceWorker.getRegistrations().then((all) => all.length)") == 0
    )


def test_from_a_folder_there_is_nothing_to_keep(page: Page, editions: list[Path]) -> None:
    page.goto((editions[0] / "index.html").as_uri())
    expect(page.locator("[data-offline]")).to_be_hidden()


def test_the_list_names_every_file_but_those_of_a_folder(editions: list[Path]) -> None:

    site = editions[0]
    listed = json.loads((site / "baybook-files.json").read_text())
    there = {path.relative_to(site).as_posix() for path in site.rglob("*") if path.is_file()}
    left_out = there - set(listed)
    assert set(listed) <= there
    assert {name.split(".")[0] for name in left_out} == {
        "",
        "baybook-files",
        "baybook-offline",
        "sitemap",
        *(f"assets/runtime/{part}" for part in ("wasm", "snapshot", "plain", "workers")),
    }


# -- the policy --------------------------------------------------------------------------------


def test_a_page_computes_under_its_policy(page: Page, host: Host) -> None:
    page.add_init_script(VIOLATIONS)
    for root in (host.address, f"{host.folder.as_uri()}/"):
        computes(page, root)
        assert page.evaluate("window.violations") == []


def test_the_policy_stops_what_it_is_there_for(page: Page, host: Host, watch: Any) -> None:
    watch.errors_expected = True
    page.add_init_script(VIOLATIONS)
    page.goto(f"{host.address}index.html")
    page.evaluate("""() => {
        const script = document.createElement("script");
        script.textContent = "window.ran = 1";
        document.body.append(script);
        const picture = document.createElement("img");
        picture.src = "http://outside.invalid/a.png";
        document.body.append(picture);
        document.body.insertAdjacentHTML("beforeend", "<b onclick='window.ran = 1'>x</b>");
        document.body.lastElementChild.click();
        try { new Worker(URL.createObjectURL(new Blob(["1"]))); } catch { }
    }""")
    page.wait_for_function("window.violations.length >= 4")
    assert page.evaluate("window.ran") is None
    said = " ".join(page.evaluate("window.violations"))
    for directive in ("script-src-elem", "script-src-attr", "img-src", "worker-src"):
        assert directive in said
    watch.outside.clear()  # it was asked for, and refused before it left
