"""What the tests of the runtime share: a cache that outlives them and a stand-in package."""

from pathlib import Path

import pytest
from tests.kept import RUNTIME_CACHE, one_maker

from baybook.runtime.node import find_node, install_packages

API = """
import json

UNITS = {}


def install(table):
    UNITS.update(json.loads(table))


def call(text):
    return json.dumps([json.loads(text), UNITS])
"""


@pytest.fixture
def stand_in(tmp_path: Path) -> Path:
    """A package that stands in for the calculators."""
    package = tmp_path / "stand-in" / "baycalc"
    (package / "calculators").mkdir(parents=True)
    (package / "__init__.py").write_text("")
    (package / "api.py").write_text(API)
    (package / "calculators" / "__init__.py").write_text("")
    return package


@pytest.fixture(scope="session")
def cache() -> Path:
    """The folder that keeps npm packages and builds from one run of the tests to the next."""
    with one_maker():
        return RUNTIME_CACHE


@pytest.fixture(scope="session")
def modules(cache: Path) -> Path:
    """The installed npm packages."""
    with one_maker():
        return install_packages(find_node(), cache)
