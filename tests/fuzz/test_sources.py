"""A share of what `make fuzz` tries of sources and bench sheets."""

import subprocess

from tests.fuzz.__main__ import SHEETS
from tests.fuzz.sources import fuzz_sources

from baybook.runtime.node import find_node


def test_mutated_sources_end_in_sentences() -> None:
    found, clean = fuzz_sources(150, seed=20261126)
    assert found == []
    assert clean > 20  # some go through the pages


def test_mutated_bench_sheets_are_taken_or_refused() -> None:
    command = [find_node().node, str(SHEETS), "1000", "20261126"]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout[-2000:] + done.stderr[-2000:]
