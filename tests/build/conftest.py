"""A small valid book, and what checking it needs."""

import shutil
from collections.abc import Mapping
from pathlib import Path

import pytest

from baybook.book.pint_quantities import unit_table_data
from baycalc import api
from baycalc.forms.declare import Calculator

BASE = Path(__file__).parents[1] / "wrong_sources" / "base"


@pytest.fixture
def book_folder(tmp_path: Path) -> Path:
    """Return a folder that holds the sources of a valid book in `procedures`."""
    shutil.copytree(BASE, tmp_path, dirs_exist_ok=True)
    return tmp_path


@pytest.fixture(scope="session", autouse=True)
def _installed() -> None:
    """Let every test have the unit table, whichever runs first."""
    api.install(unit_table_data())


@pytest.fixture(scope="session")
def calculators(_installed: None) -> Mapping[str, Calculator]:
    """Return all calculators by their ids."""
    return {name: api.describe(name) for name in api.names()}
