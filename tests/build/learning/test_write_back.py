"""Numbers in their places, and every other letter as it was."""

from datetime import date

import pytest

from baybook.book.sources.read import read_yaml
from baybook.learning.write_back import NoPlace, as_written, changed_source

DAY = date(2026, 11, 26)
SOURCE = """---
title: Air   # not to be touched
recheck: 15
faults:
  pump-dead:   {often: 10,  sets: {P0410: 0.9, "P0411": .25}}  # seen often
  valve-leaks:
    often: air-weight
    sets: &same {P0410: 0.5}
    repair: {minutes: 40, price: 90}
  hose:
    often: 4 # weight
    sets: *same
tests:
  look:
    minutes: 3
    observations:
      wet: {shows: {hose: 0.6}, false-alarm: 0.02}
sources:
  - text: A book of ours, table 3
    standing: memory
  # the last one
  - {text: Another}
codes: [P0410]
---

Text with often: 10 in it.
"""

VALUES = {
    ("faults", "pump-dead", "often"): 12.345,
    ("faults", "pump-dead", "sets", "P0410"): 0.9512,
    ("faults", "pump-dead", "sets", "P0411"): 0.313,
    ("faults", "hose", "often"): 4.001,
    ("faults", "valve-leaks", "repair", "minutes"): 51.6,
    ("tests", "look", "minutes"): 3.8,
    ("tests", "look", "observations", "wet", "false-alarm"): 0.0312,
    ("recheck",): 12.2,
}
EDITS = {
    "often: 10,  ": "often: 12.3,  ",
    "P0410: 0.9,": "P0410: 0.951,",
    '"P0411": .25': '"P0411": 0.31',
    "minutes: 40": "minutes: 52",
    "minutes: 3\n": "minutes: 4\n",
    "false-alarm: 0.02": "false-alarm: 0.031",
    "recheck: 15": "recheck: 12",
    "  - {text: Another}\n": "  - {text: Another}\n"
    '  - text: "Chances learned from closed jobs of this workshop: 41, 2026-11-26."\n'
    "    standing: workshop\n",
}


def _expected(text: str) -> str:
    for old, new in EDITS.items():
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return text


@pytest.mark.parametrize("break_", ["\n", "\r\n"])
def test_numbers_change_and_nothing_else(break_: str) -> None:
    source = SOURCE.replace("\n", break_)
    text, written, left = changed_source(source, VALUES, 41, DAY)
    assert text == _expected(SOURCE).replace("\n", break_)
    assert left == {}
    assert written[("faults", "pump-dead", "often")] == 12.3
    assert ("faults", "hose", "often") not in written  # 4.001 is written as it was
    front = text.replace("\r\n", "\n").split("---\n")[1]
    data, _, problems = read_yaml(front, "air.md")
    assert problems == []
    assert data["tests"]["look"]["minutes"] == 4


def test_a_second_round_replaces_the_line() -> None:
    once, _, _ = changed_source(SOURCE, VALUES, 41, DAY)
    twice, _, _ = changed_source(once, {("recheck",): 20.0}, 90, date(2027, 1, 2))
    assert twice.count("Chances learned") == 1
    assert '"Chances learned from closed jobs of this workshop: 90, 2027-01-02."' in twice
    assert (
        twice.replace("90, 2027-01-02", "41, 2026-11-26").replace("recheck: 20", "recheck: 12")
        == once
    )


@pytest.mark.parametrize(
    ("path", "why"),
    [
        (("faults", "valve-leaks", "often"), "is a figure of the vehicle"),
        (("faults", "hose", "sets", "P0410"), "stands in several places by an alias"),
        (("outside",), "stands in no line of the file: what holds is the value that is usual"),
    ],
)
def test_what_has_no_place_is_told(path: tuple[str, ...], why: str) -> None:
    text, written, left = changed_source(SOURCE, {path: 0.3}, 41, DAY)
    assert (text, written, left) == (SOURCE, {}, {path: why})


def test_no_front_matter() -> None:
    with pytest.raises(NoPlace, match="no front matter"):
        changed_source("# Title\n", VALUES, 41, DAY)


@pytest.mark.parametrize(
    ("path", "value", "text"),
    [
        (("tests", "look", "minutes"), 3.7, "3.5"),
        (("tests", "look", "minutes"), 0.1, "0.5"),
        (("tests", "look", "minutes"), 10.4, "10"),
        (("faults", "a", "often"), 0.012345, "0.0123"),
        (("faults", "a", "repair", "price"), 87.64, "87.6"),
        (("outside",), 0.0004, "0.001"),
        (("outside",), 0.99999, "0.999"),
        (("outside",), 0.456, "0.46"),
    ],
)
def test_no_finer_than_jobs_can_tell(path: tuple[str, ...], value: float, text: str) -> None:
    assert as_written(path, value) == text
