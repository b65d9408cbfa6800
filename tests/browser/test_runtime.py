"""The browser's Python: starts over http and from a folder, answers, falls back, recovers."""

import json
import re
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page
from tests.browser.conftest import PATIENCE
from tests.kept import RUNTIME_CACHE, one_maker

from baybook.book.pint_quantities import unit_table_data
from baybook.runtime import build_runtime
from baybook.runtime.edition import OLDEST_BROWSERS
from baybook.runtime.payload import text_of, zipped
from baycalc import api

Address = Callable[[Path], str]

POLICY = (
    "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; worker-src WORKERS; "
    "connect-src 'self'; img-src data:"
)
PAGE = f"""<!doctype html>
<html lang="en"><head><meta charset="utf-8"><title>Runtime</title>
<meta http-equiv="Content-Security-Policy" content="{POLICY}">
<link rel="icon" href="data:,">
<script src="../assets/python/python.js"></script></head><body></body></html>
"""
WORKERS = {"page.html": "'self'", "folder.html": "blob:"}
"""Where workers may come from: files over http, Blobs in a page from a folder."""

# A stand-in for the calculators, with what only a test wants: runaways and crashes.
STAND_IN = """
import ctypes
import json
import random

UNITS = {}


def install(table):
    UNITS.update(json.loads(table))


def deep(depth):
    return deep(depth + 1)


def call(text):
    request = json.loads(text)
    match request["method"]:
        case "echo":
            return json.dumps({"echo": request["value"], "units": UNITS})
        case "random":
            return json.dumps(random.random())
        case "spin":
            while True:
                pass
        case "raise":
            raise ValueError(request["value"])
        case "deep":
            return deep(0)
        case "nan":
            return json.dumps(float("nan"))
        case "crash":
            return json.dumps(ctypes.string_at(0xFFFFFFF0, 64).hex())
"""
UNITS = {"inHg": 3386.389}


def write_stand_in(folder: Path) -> Path:
    package = folder / "baycalc"
    package.mkdir(parents=True)
    (package / "__init__.py").write_text("")
    (package / "api.py").write_text(STAND_IN)
    return package


def write_site(folder: Path, units: Any, calc_dir: Path | None = None) -> Path:
    (folder / "deep").mkdir(parents=True)
    for name, workers in WORKERS.items():
        page = PAGE.replace("WORKERS", workers)
        (folder / "deep" / name).write_text(page)
    python = folder / "assets" / "python"
    with one_maker():
        build_runtime(
            python, RUNTIME_CACHE, json.dumps(units), calc_dir=calc_dir, progress=lambda _: None
        )
    return folder


@pytest.fixture(scope="session")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("stand-in")
    return write_site(folder / "site", UNITS, write_stand_in(folder))


@pytest.fixture(scope="session")
def real_site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return write_site(tmp_path_factory.mktemp("real") / "site", unit_table_data())


@pytest.fixture
def damaged(site: Path, tmp_path: Path) -> Path:
    """A copy of the site, to be damaged."""
    return Path(shutil.copytree(site, tmp_path / "damaged"))


def call(page: Page, request: Any, options: Any = None) -> Any:
    words = [request, {"limit": PATIENCE} | (options or {})]
    return page.evaluate("([request, options]) => baybook.python.call(request, options)", words)


def open_page(page: Page, root: str, query: str = "") -> None:
    page.goto(f"{root}deep/{page_name(root)}{query}")


def page_name(root: str) -> str:
    return "folder.html" if root.startswith("file:") else "page.html"


def statuses(page: Page) -> None:
    """Note every change of the status in the page's `seen`."""
    page.evaluate("() => { window.seen = []; baybook.python.onStatus((s) => seen.push(s)); }")


# -- it starts and answers ---------------------------------------------------------------------


def test_it_starts_from_the_snapshot_at_the_first_call(
    page: Page, site: Path, address_of: Address
) -> None:
    open_page(page, address_of(site))
    statuses(page)
    assert page.evaluate("seen") == ["idle"]
    answer = call(page, {"method": "echo", "value": ["µ", 0.1, None]})
    assert answer == {"echo": ["µ", 0.1, None], "units": UNITS}
    assert page.evaluate("seen") == ["idle", "loading", "ready"]


def test_it_starts_the_plain_way_when_the_address_asks_for_it(
    page: Page, site: Path, address_of: Address
) -> None:
    open_page(page, address_of(site), "?runtime=plain")
    statuses(page)
    answer = call(page, {"method": "echo", "value": "µ"})
    assert answer == {"echo": "µ", "units": UNITS}
    assert page.evaluate("seen") == ["idle", "loading", "plain"]


def test_it_starts_where_webassembly_has_no_garbage_collection(
    new_page: Callable[..., Page], site: Path, serve: Address
) -> None:
    # Pyodide leaves that part of WebAssembly alone on an iPhone; a snapshot must not need it.
    page = new_page(user_agent="iPhone")
    open_page(page, serve(site))
    assert call(page, {"method": "echo", "value": 1})["echo"] == 1
    assert page.evaluate("baybook.python.status") == "ready"


def test_chance_is_not_that_of_the_snapshot(page: Page, site: Path, serve: Address) -> None:
    numbers = set()
    for _ in range(2):
        open_page(page, serve(site))
        numbers.add(call(page, {"method": "random"}))
    assert len(numbers) == 2


@pytest.mark.parametrize("query", ["", "?runtime=plain"])
def test_calculators_answer_in_the_browser_as_in_cpython(
    page: Page, real_site: Path, serve: Address, query: str
) -> None:
    table = unit_table_data()
    api.install(table)
    requests = [{"method": "run", "name": name, "fields": {}} for name in api.names()]
    requests += [
        {"method": "run", "name": name, "fields": {"reading": text, "volume": text}}
        for name in api.names()
        for text in ("19,5 inHg", "3 lightyears", "", "1e400", "-7")
    ]
    open_page(page, serve(real_site), query)
    asked = "requests => Promise.all(requests.map((request) => baybook.python.call(request)))"
    assert page.evaluate(asked, requests) == [
        json.loads(api.call(json.dumps(request))) for request in requests
    ]


# -- the queue ---------------------------------------------------------------------------------


def test_the_newest_request_of_a_key_takes_the_place_of_older_ones(
    page: Page, site: Path, serve: Address
) -> None:
    open_page(page, serve(site))
    answers = page.evaluate(
        """() => Promise.all([[1, "a"], [2, "b"], [3, "a"], [4, null], [5, "a"], [6, null]].map(
            ([value, key]) => baybook.python.call({method: "echo", value}, {key})))"""
    )
    assert [answer and answer["echo"] for answer in answers] == [None, 2, None, 4, 5, 6]


def test_answers_come_in_the_order_of_the_calls(page: Page, site: Path, serve: Address) -> None:
    open_page(page, serve(site))
    order = page.evaluate(
        """async () => {
            const order = [];
            await Promise.all([3, 1, 2].map(async (value) => {
                order.push((await baybook.python.call({method: "echo", value})).echo);
            }));
            return order;
        }"""
    )
    assert order == [3, 1, 2]


# -- what goes wrong in a call -----------------------------------------------------------------

OUTCOME = """async ([request, options]) => {
    try {
        return {answer: await baybook.python.call(request, options)};
    } catch (error) {
        return {refused: error.message};
    }
}"""


def outcome(page: Page, request: Any, options: Any = None) -> Any:
    return page.evaluate(OUTCOME, [request, options or {}])


def test_a_runaway_is_stopped_and_the_next_call_answers(
    page: Page, site: Path, address_of: Address
) -> None:
    open_page(page, address_of(site))
    call(page, {"method": "echo", "value": 1})
    statuses(page)
    asked = """async ([spin, limit]) => {
        const first = baybook.python.call(spin, {limit}).catch((error) => error.message);
        const second = baybook.python.call({method: "echo", value: 2});
        return [await first, (await second).echo];
    }"""
    said = "The calculation took longer than 0.3 s and was stopped."
    assert page.evaluate(asked, [{"method": "spin"}, 300]) == [said, 2]
    assert page.evaluate("seen") == ["ready", "loading", "ready"]


@pytest.mark.parametrize(
    ("request_", "reason"),
    [
        ({"method": "raise", "value": "no such thing"}, "ValueError: no such thing"),
        ({"method": "raise", "value": "x" * 1000}, f"ValueError: {'x' * 288}…"),
        ({"method": "deep"}, "RecursionError: maximum recursion depth exceeded"),
        ({"method": "nan"}, "the answer is not JSON: .*NaN.*"),
    ],
)
def test_an_exception_of_python_is_an_answer(
    page: Page, site: Path, serve: Address, request_: Any, reason: str
) -> None:
    open_page(page, serve(site))
    statuses(page)
    answer = call(page, request_)
    assert list(answer) == ["error"]
    assert re.fullmatch(reason, answer["error"])
    assert page.evaluate("seen") == ["idle", "loading", "ready"]


def test_a_request_that_is_no_json_is_refused_alone(page: Page, site: Path, serve: Address) -> None:
    open_page(page, serve(site))
    asked = """async () => {
        const circle = {};
        circle.self = circle;
        const refused = baybook.python.call(circle).catch((error) => error.name);
        return [await refused, (await baybook.python.call({method: "echo", value: 1})).echo];
    }"""
    assert page.evaluate(asked) == ["TypeError", 1]


@pytest.mark.usefixtures("errors_expected")
def test_a_crash_of_the_interpreter_is_followed_by_a_new_start(
    page: Page, site: Path, serve: Address
) -> None:
    open_page(page, serve(site))
    statuses(page)
    assert outcome(page, {"method": "crash"})["refused"]
    assert call(page, {"method": "echo", "value": 2})["echo"] == 2
    assert page.evaluate("seen") == ["idle", "loading", "ready", "loading", "ready"]


def test_stop_refuses_what_waits_and_a_later_call_starts_again(
    page: Page, site: Path, serve: Address
) -> None:
    open_page(page, serve(site))
    statuses(page)
    asked = """async () => {
        const calls = [1, 2].map((value) =>
            baybook.python.call({method: "echo", value}).catch((error) => error.message));
        baybook.python.stop();
        const later = await baybook.python.call({method: "echo", value: 3});
        return [...(await Promise.all(calls)), later.echo];
    }"""
    said = "The browser's Python was stopped."
    assert page.evaluate(asked) == [said, said, 3]
    assert page.evaluate("seen") == ["idle", "loading", "idle", "loading", "ready"]


# -- what goes wrong at the start --------------------------------------------------------------


def cut(file: Path) -> None:
    """Damage what a file carries; a script that carries it stays whole."""
    data = file.read_bytes()
    middle = len(data) // 2
    file.write_bytes(data[:middle] + b"AAAAAAAA" + data[middle + 8 :])


def exchange(file: Path) -> None:
    """Put in something else, which unzips well: the header of a snapshot and nothing more."""
    image = zipped(b"\0snp".ljust(4096, b"\0"))
    if file.suffix == ".bin":
        file.write_bytes(image)
    else:
        text = re.sub(r'(\.gz": ")[^"]*', rf"\g<1>{text_of(image)}", file.read_text())
        file.write_text(text)


def halve(file: Path) -> None:
    """Cut a file short."""
    file.write_bytes(file.read_bytes()[:-1000])


FILES = {
    "wasm": "pyodide.asm.wasm.gz.*.bin",
    "snapshot": "snapshot.bin.gz.*.bin",
    "plain": "python_stdlib.zip.*.bin",
    "workers": "worker.*.js",
}


def harmed(site: Path, name: str, harm: Callable[[Path], None]) -> None:
    """Harm a part of the runtime, the file and the text that carries it."""
    for pattern in (FILES[name], f"{name}.*.js"):
        (file,) = (site / "assets" / "python").glob(pattern)
        harm(file)


@pytest.mark.usefixtures("errors_expected")
@pytest.mark.parametrize(
    ("address_of", "harm"),
    [("http", exchange), ("file", halve)],
    indirect=["address_of"],
)
def test_a_snapshot_that_does_not_start_gives_way_to_the_plain_way(
    page: Page, damaged: Path, address_of: Address, harm: Callable[[Path], None]
) -> None:
    harmed(damaged, "snapshot", harm)
    open_page(page, address_of(damaged))
    assert call(page, {"method": "echo", "value": "µ"}) == {"echo": "µ", "units": UNITS}
    assert page.evaluate("[baybook.python.status, baybook.python.reason]") == ["plain", ""]


def test_a_restart_after_the_plain_way_does_not_try_the_snapshot_again(
    page: Page, damaged: Path, serve: Address
) -> None:
    harmed(damaged, "snapshot", cut)
    open_page(page, serve(damaged))
    call(page, {"method": "echo", "value": 1})
    asked: list[str] = []
    page.context.on("request", lambda request: asked.append(request.url))
    outcome(page, {"method": "spin"}, {"limit": 300})
    assert call(page, {"method": "echo", "value": 2})["echo"] == 2
    assert [url for url in asked if "snapshot" in url] == []
    assert page.evaluate("baybook.python.modes") == ["plain"]


@pytest.mark.usefixtures("errors_expected")
def test_when_both_ways_fail_the_page_is_told_why(
    page: Page, damaged: Path, address_of: Address
) -> None:
    harmed(damaged, "snapshot", cut)
    harmed(damaged, "plain", Path.unlink)
    root = address_of(damaged)
    open_page(page, root)
    refused = outcome(page, {"method": "echo", "value": 1})["refused"]
    missing = r"plain\.\w+\.js" if root.startswith("file:") else r"python_stdlib\.zip"
    assert re.fullmatch(
        r"The browser's Python cannot start \(snapshot: snapshot\.bin is damaged: .{5,80}; "
        rf"plain: {missing} could not be loaded\)\.",
        refused,
    )
    assert page.evaluate("[baybook.python.status, baybook.python.reason]") == ["failed", refused]
    assert outcome(page, {"method": "echo", "value": 2}) == {"refused": refused}


@pytest.mark.usefixtures("errors_expected")
def test_after_a_failure_the_next_call_tries_again(
    page: Page, site: Path, damaged: Path, serve: Address
) -> None:
    harmed(damaged, "wasm", Path.unlink)
    open_page(page, serve(damaged))
    assert "could not be loaded" in outcome(page, {"method": "echo", "value": 1})["refused"]
    shutil.copytree(site, damaged, dirs_exist_ok=True)
    assert call(page, {"method": "echo", "value": 2})["echo"] == 2
    assert page.evaluate("baybook.python.status") == "ready"


@pytest.mark.usefixtures("errors_expected")
def test_a_start_that_failed_is_tried_again_once_there_is_a_network(
    page: Page, site: Path, damaged: Path, serve: Address
) -> None:
    harmed(damaged, "wasm", Path.unlink)
    open_page(page, serve(damaged))
    outcome(page, {"method": "echo", "value": 1})
    shutil.copytree(site, damaged, dirs_exist_ok=True)
    ready = """() => new Promise((resolve) => {
        baybook.python.onStatus((status) => status === "ready" && resolve(status));
        window.dispatchEvent(new Event("online"));
    })"""
    assert page.evaluate(ready) == "ready"


@pytest.mark.parametrize(
    "missing",
    ["delete window.DecompressionStream", "delete window.WebAssembly", "delete Object.hasOwn"],
)
def test_a_browser_that_is_too_old_is_told_so(
    page: Page, site: Path, serve: Address, missing: str
) -> None:
    page.add_init_script(missing)
    open_page(page, serve(site))
    said = (
        "This browser is too old, or parts of it are switched off: the calculators need "
        f"{OLDEST_BROWSERS}, or a later one."
    )
    assert outcome(page, {"method": "echo", "value": 1}) == {"refused": said}
    assert page.evaluate("[baybook.python.status, baybook.python.reason]") == ["failed", said]


def test_a_start_that_hangs_is_given_up(
    new_page: Callable[..., Page], damaged: Path, serve: Address
) -> None:
    page = new_page(bypass_csp=True)  # waiting for a condition evaluates text in the page
    harmed(damaged, "workers", lambda file: file.write_text("onmessage = () => {};"))
    page.clock.install()
    open_page(page, serve(damaged))
    page.evaluate("baybook.python.start()")
    for name in ("snapshot", "plain"):
        page.wait_for_function(f"baybook.python.process?.mode === '{name}'")
        page.wait_for_function("baybook.python.process.waiting.timer")
        page.clock.fast_forward(120_000)
    page.wait_for_function("baybook.python.status === 'failed'")
    assert page.evaluate("baybook.python.reason") == (
        "The browser's Python cannot start (snapshot: The start took longer than 30 s and was "
        "stopped.; plain: The start took longer than 120 s and was stopped.)."
    )


# -- the watch over these tests ----------------------------------------------------------------


@pytest.mark.usefixtures("errors_expected")
def test_the_watch_sees_what_a_worker_asks_for(
    page: Page, watch: Any, site: Path, serve: Address
) -> None:
    page.goto(f"{serve(site)}assets/python/python.js")
    asked = """() => new Promise((resolve) => {
        const source = "fetch('http://outside.invalid/').catch(() => postMessage(0))";
        new Worker(URL.createObjectURL(new Blob([source]))).onmessage = resolve;
    })"""
    page.evaluate(asked)
    assert watch.outside == ["http://outside.invalid/"]
    watch.outside.clear()
