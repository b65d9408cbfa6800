"""The browser's Python: starts over http and from a folder, answers, falls back, recovers."""

import json
import re
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from baybook.book.quantities import unit_table_data
from baybook.runtime import build_runtime
from baycalc import door

CACHE = Path(__file__).parents[2] / ".cache" / "tests" / "runtime"
POLICY = (
    "default-src 'none'; script-src 'self' blob: 'wasm-unsafe-eval'; worker-src blob:; "
    "img-src data:"
)
PAGE = f"""<!doctype html>
<html lang="en"><head><meta charset="utf-8"><title>Runtime</title>
<meta http-equiv="Content-Security-Policy" content="{POLICY}">
<link rel="icon" href="data:,">
<script src="../assets/python/python.js"></script></head><body></body></html>
"""

# A stand-in for the calculators, with what only a test wants: runaways and crashes.
STAND_IN = """
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
            raise ValueError("first line\\n" + "long " * 1000)
        case "deep":
            return deep(0)
        case "nan":
            return json.dumps(float("nan"))
        case "exit":
            raise SystemExit(3)
"""
UNITS = {"inHg": 3386.389}


def write_stand_in(folder: Path) -> Path:
    package = folder / "baycalc"
    package.mkdir(parents=True)
    (package / "__init__.py").write_text("")
    (package / "door.py").write_text(STAND_IN)
    return package


def write_site(folder: Path, units: Any, calc_dir: Path | None = None) -> Path:
    (folder / "deep").mkdir(parents=True)
    (folder / "deep" / "page.html").write_text(PAGE)
    python = folder / "assets" / "python"
    build_runtime(python, CACHE, json.dumps(units), calc_dir=calc_dir, progress=lambda _: None)
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
    words = [request, options or {}]
    return page.evaluate("([request, options]) => baybookPython.call(request, options)", words)
