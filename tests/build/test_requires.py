"""For which Baybook a book is, and of which day."""

import os
from importlib.metadata import version
from pathlib import Path

import pytest

from baybook.book.requires import edition, requires_problem


@pytest.mark.parametrize("wanted", ["", ">=0.1,<99", f"=={version('baybook')}"])
def test_this_one_will_do(wanted: str) -> None:
    assert requires_problem(wanted) == ()


def test_another_one_is_wanted() -> None:
    text, hint = requires_problem(">=99")
    assert text == f"the sources are for Baybook >=99, and this is {version('baybook')}"
    assert "changes of the fields" in hint
    assert requires_problem("new") == ("versions are written such as >=0.1,<0.2, and not new",)


def test_the_day_is_that_of_the_newest_source(tmp_path: Path) -> None:
    for name, day in (("a.md", 0), ("b.md", 86_400 * 365)):
        (tmp_path / name).write_text("x")
        os.utime(tmp_path / name, (day, day))
    assert edition(tmp_path) == f"Baybook {version('baybook')}, sources of 1 January 1971"
