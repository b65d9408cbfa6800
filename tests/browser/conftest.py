"""What the browser tests share: Chromium, a server under a prefix, and a page that is watched."""

import functools
import hashlib
import http.server
import os
import shutil
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import (
    Browser,
    BrowserContext,
    ConsoleMessage,
    Page,
    expect,
    sync_playwright,
)
from tests.kept import KEPT, ROOT, one_maker

from baybook.book.equipment import variants
from baybook.book.pint_quantities import unit_table_data
from baybook.book.sources.load import load_book
from baycalc import api

BOOK_INPUTS = ("build", "calc", "docs", "procedures", "mkdocs.yml", ".ci/pins/book.txt")
BOOKS_KEPT = 2
PATIENCE = 60_000
"""How long a test waits for what must come: a net below it, on a busy machine too [ms]."""

PREFIX = "/some/prefix/"
BROWSERS = ("chromium-headless-shell", "chromium", "chromium-browser", "google-chrome")
"""The one without a window of its own first: it takes half the time."""

ARGUMENTS = (
    "--disable-gpu",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--no-first-run",
    "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1",
)


def chromium_path() -> str:
    """Return the Chromium that BAYBOOK_CHROMIUM names, else the first of the usual names."""
    names = (os.environ.get("BAYBOOK_CHROMIUM"), *BROWSERS)
    found = next((path for name in names if name and (path := shutil.which(name))), None)
    assert found, "the browser tests need Chromium: install it or set BAYBOOK_CHROMIUM"
    return found


def wait_for(
    page: Page, expression: str, *, arg: Any = None, timeout: float = PATIENCE, **_: Any
) -> None:
    """Wait for a condition as Playwright does, from outside the page: its policy forbids eval."""
    ends = time.monotonic() + timeout / 1000
    while not page.evaluate(expression, arg):
        assert time.monotonic() < ends, f"this never came: {expression}"
        page.wait_for_timeout(40)


Page.wait_for_function = wait_for  # type: ignore[assignment,method-assign]


class PrefixHandler(http.server.SimpleHTTPRequestHandler):
    """Serves a folder under PREFIX only, as a host does that holds many sites."""

    protocol_version = "HTTP/1.1"  # connections stay open, as those of a host do

    def translate_path(self, path: str) -> str:
        if not path.startswith(PREFIX):
            return str(Path(self.directory) / "no such file")
        return super().translate_path(path.removeprefix(PREFIX.rstrip("/")))

    def log_message(self, format: str, *args: object) -> None:
        """Keep quiet."""


def book_key() -> str:
    """Return a name for the demo book that changes with everything it is built from."""
    digest = hashlib.sha256()
    for name in BOOK_INPUTS:
        place = ROOT / name
        for path in sorted([place, *place.rglob("*")]):
            if path.is_file() and "__pycache__" not in path.parts:
                digest.update(f"{path.relative_to(ROOT)}\0".encode() + path.read_bytes())
    return digest.hexdigest()[:16]


def build_command(site: Path, folder: Path, *options: str) -> None:
    """Run ``baybook build`` in the folder of a book."""
    baybook = Path(sys.executable).parent / "baybook"
    command = [baybook, "build", "--site", site, *options]
    subprocess.run(command, cwd=folder, check=True, stdout=subprocess.DEVNULL)


@functools.cache
def _page_names() -> dict[tuple[str, str], str]:
    return {
        (variant.source.id, car.id): variant.name
        for variant in variants(load_book(ROOT / "procedures"))
        for car in variant.cars
    }


def work_page(procedure: str, car: str) -> str:
    """Return the address of a procedure's page of the demo book with a car chosen."""
    return f"procedures/{procedure}/{_page_names()[procedure, car]}.html?car={car}"


def uri_of(page: str) -> str:
    """Return the address of a page; "PROCEDURE for CAR" stands for that of a work page.

    So that tests can be named by their pages before any procedure is read.
    """
    procedure, given, car = page.partition(" for ")
    return work_page(procedure, car) if given else page


def build_book() -> Path:
    """Build the demo book by its command, unless it is there already, and return its folder."""
    book = KEPT / f"book-{book_key()}"
    with one_maker():
        if not book.exists():
            books = sorted(KEPT.glob("book-*"), key=lambda path: path.stat().st_mtime)
            for old in books[:-BOOKS_KEPT]:
                shutil.rmtree(old)
            with tempfile.TemporaryDirectory(dir=KEPT) as folder:
                site = Path(folder) / "site"
                build_command(site, ROOT)
                site.rename(book)
    return book


@pytest.fixture(scope="session")
def book() -> Path:
    """The folder of the demo book, built once."""
    return build_book()


@pytest.fixture(scope="session")
def book_address(book: Path, serve: Callable[[Path], str]) -> str:
    """The address of the demo book over http, under a prefix."""
    return serve(book)


@pytest.fixture(scope="session")
def calculators() -> list[str]:
    """The ids of all calculators, ready to be asked in CPython."""
    api.install(unit_table_data())
    return api.names()


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """Chromium, one for all tests."""
    expect.set_options(timeout=PATIENCE)
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=chromium_path(),
            args=ARGUMENTS,
            env={**os.environ, "LC_ALL": "C.UTF-8"},  # else a file's name with an Ä is refused
        )
        yield browser
        browser.close()


@pytest.fixture(scope="session")
def serve() -> Iterator[Callable[[Path], str]]:
    """Serve a folder on loopback under a prefix: returns the address of its root."""
    servers: list[http.server.ThreadingHTTPServer] = []

    def start(folder: Path) -> str:
        handler = partial(PrefixHandler, directory=str(folder))
        server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), handler)
        threading.Thread(target=server.serve_forever, args=(0.02,), daemon=True).start()
        servers.append(server)
        return f"http://127.0.0.1:{server.server_port}{PREFIX}"

    yield start
    for server in servers:
        server.shutdown()
        server.server_close()


@pytest.fixture(params=["http", "file"])
def address_of(
    request: pytest.FixtureRequest, serve: Callable[[Path], str]
) -> Callable[[Path], str]:
    """Return the address of a folder, once over http under a prefix and once by ``file://``."""
    if request.param == "http":
        return serve
    return lambda folder: f"{folder.resolve().as_uri()}/"


@dataclass
class Watch:
    """What a page complained of and whom it asked."""

    errors: list[str] = field(default_factory=list)
    outside: list[str] = field(default_factory=list)
    errors_expected: bool = False

    def follow(self, context: BrowserContext) -> None:
        context.on("console", self.hear)
        context.on("weberror", lambda error: self.errors.append(str(error.error)))
        context.on("request", lambda request: self.see(request.url))

    def hear(self, message: ConsoleMessage) -> None:
        if message.type == "error":
            self.errors.append(f"{message.text[:300]} ({message.location['url']})")

    def see(self, url: str) -> None:
        parts = urlsplit(url)
        loopback = parts.scheme == "http" and parts.hostname == "127.0.0.1"
        if not loopback and parts.scheme not in ("file", "blob", "data"):
            self.outside.append(url)

    def verify(self) -> None:
        assert self.outside == []
        assert self.errors_expected or self.errors == []


@pytest.fixture
def watch() -> Watch:
    """The watch over the pages of a test."""
    return Watch()


@pytest.fixture
def errors_expected(watch: Watch) -> None:
    """For a test that provokes errors: those of the console do not fail it."""
    watch.errors_expected = True


@pytest.fixture
def new_page(browser: Browser, watch: Watch) -> Iterator[Callable[..., Page]]:
    """Open a page of a fresh profile; a console error or an outside request fails the test."""
    contexts: list[BrowserContext] = []

    def open_page(**options: Any) -> Page:
        context = browser.new_context(**options)
        context.set_default_timeout(PATIENCE)
        contexts.append(context)
        watch.follow(context)
        return context.new_page()

    yield open_page
    for context in contexts:
        context.close()
    watch.verify()


@pytest.fixture
def page(new_page: Callable[..., Page]) -> Page:
    """One page, watched as `new_page` says."""
    return new_page()


def unfold(page: Page) -> None:
    """Open the tests of a procedure, and what follows them."""
    page.evaluate("document.querySelectorAll('.page-fold').forEach((each) => (each.open = true))")


FOCUSED = "selector => document.activeElement?.matches(selector) ?? false"


def tab_to(page: Page, selector: str, most: int = 900) -> None:
    """Press Tab until an element that a selector names has the focus."""
    for _ in range(most):
        page.keyboard.press("Tab")
        if page.evaluate(FOCUSED, selector):
            return
    raise AssertionError(f"the Tab key never came to {selector}")
