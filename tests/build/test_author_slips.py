"""A table of what authors get wrong: caught or harmless, on the right line, in the right words."""

import shutil
from pathlib import Path
from typing import Any

import pytest
import yaml

from baybook.book.compiled import compile_book

BASE = Path(__file__).parents[1] / "wrong_sources" / "base"
SLIPS = yaml.safe_load(Path(__file__).with_name("author_slips.yml").read_text("utf-8"))
HARMLESS = {
    "a weight as a power of ten",
    "a fraction of an inch",
    "a whole and a fraction",
    "a decimal comma in a quantity",
    "foot-pounds as the trade writes them",
    "a good answer in quotes",
    "good: on",
    "a heading of one's own",
    "a step that looks like a volume",
}
"""What is right as it is written."""

ONLY_WARNED = {
    "misspelt equipment",
    "a code that no one knows",
    "a code that no fault sets",
    "a list without a blank line",
    "a bare quantity",
    "a bare torque",
}


@pytest.mark.parametrize("slip", SLIPS, ids=lambda slip: str(slip["slip"]))
def test_a_slip_is_told_where_it_stands(slip: dict[str, Any], tmp_path: Path) -> None:
    shutil.copytree(BASE, tmp_path, dirs_exist_ok=True)
    path = tmp_path / "procedures" / slip["file"]
    text = path.read_text("utf-8")
    assert slip["old"] in text
    path.write_text(text.replace(slip["old"], slip["new"], 1), "utf-8")
    problems = sorted(
        compile_book(tmp_path / "procedures").problems, key=lambda each: each.severity != "error"
    )
    assert [str(each) for each in problems] == slip["told"]
    assert bool(problems) == (slip["slip"] not in HARMLESS)
    only_warned = problems and all(each.severity == "warning" for each in problems)
    assert bool(only_warned) == (slip["slip"] in ONLY_WARNED)


def test_there_are_as_many_as_were_tried() -> None:
    names = [slip["slip"] for slip in SLIPS]
    assert len(names) == len(set(names)) >= 72
    assert set(names) >= HARMLESS | ONLY_WARNED
