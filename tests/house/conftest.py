"""The house's own tree, and a way to plant files in a bad one."""

from collections.abc import Callable
from pathlib import Path

import pytest

Plant = Callable[[str, str], Path]


@pytest.fixture
def root() -> Path:
    return Path(__file__).parents[2]


@pytest.fixture
def plant(tmp_path: Path) -> Plant:
    """Give a function that writes a file of a small tree and returns the tree's root."""

    def write(path: str, text: str) -> Path:
        file = tmp_path / path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text, encoding="utf-8")
        return tmp_path

    return write
