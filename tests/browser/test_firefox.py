"""The book in Firefox ESR, over http and from a folder: pages, calculators, Python."""

import json
import os
import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from tests.browser.packages import node_modules
from tests.browser.small_book import build, lay_out

from baybook.runtime.node import find_node

SCRIPT = Path(__file__).with_name("firefox.mjs")
NAMES = ("firefox-esr", "firefox")


def firefox() -> str:
    """Return the Firefox that BAYBOOK_FIREFOX names, else the first of the usual names."""
    names = (os.environ.get("BAYBOOK_FIREFOX"), *NAMES)
    found = next((path for name in names if name and (path := shutil.which(name))), None)
    assert found, "this test needs Firefox: install it or set BAYBOOK_FIREFOX"
    return found


@pytest.fixture(scope="module")
def seen(tmp_path_factory: pytest.TempPathFactory, serve: Callable[[Path], str]) -> dict[str, Any]:
    """What Firefox saw of a small book, by the way in which it was opened."""
    site = build(lay_out(tmp_path_factory.mktemp("book")))
    addresses = {"http": serve(site), "file": f"{site.as_uri()}/"}
    command = [find_node().node, SCRIPT, firefox(), node_modules(), *addresses.values()]
    variables = os.environ | {"HOME": str(tmp_path_factory.mktemp("home"))}
    done = subprocess.run(command, env=variables, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr[-2000:]
    return dict(zip(addresses, json.loads(done.stdout), strict=True))


def test_pages_calculators_and_python_work(seen: dict[str, Any]) -> None:
    for way, found in seen.items():
        assert found["errors"] == [], way
        assert found["home"] == "Home"
        assert "start=7" in found["link"]
        assert found["steps"] == 2
        assert found["job"] == "object"
        assert found["python"] > 0
