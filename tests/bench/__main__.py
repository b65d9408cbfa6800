"""Every measurement, in a few lines each: ``python -m tests.bench`` or ``make bench``."""

import os
import platform
import sys
import time
from contextlib import redirect_stdout
from datetime import UTC, datetime
from types import ModuleType
from typing import TextIO

from tests.bench import (
    build_bench,
    every_page,
    exercise_bench,
    growth_bench,
    isolation_bench,
    kill_bench,
    learning_bench,
    page_bench,
    runtime_bench,
)
from tests.kept import ROOT

KEPT = ROOT / ".cache" / "bench"
"""What was measured, a file for each run."""

BENCHES = (
    build_bench,
    growth_bench,
    kill_bench,
    runtime_bench,
    page_bench,
    isolation_bench,
    every_page,
    exercise_bench,
    learning_bench,
)


class Both:
    """Writes to two places at once."""

    def __init__(self, *places: TextIO) -> None:
        self.places = places

    def write(self, text: str) -> None:
        for place in self.places:
            place.write(text)

    def flush(self) -> None:
        for place in self.places:
            place.flush()


def main() -> None:
    """Measure one thing after the other; keep what was measured, with the day and the machine."""
    now = datetime.now(UTC)
    KEPT.mkdir(parents=True, exist_ok=True)
    place = KEPT / f"{now:%Y-%m-%d-%H%M}.txt"
    with place.open("w", encoding="utf-8") as kept, redirect_stdout(Both(sys.stdout, kept)):
        print(f"{now:%Y-%m-%d %H:%M} UTC, {platform.platform()}, {os.cpu_count()} cores")
        for bench in BENCHES:
            measure(bench)


def measure(bench: ModuleType) -> None:
    """Run one bench."""
    began = time.perf_counter()
    print(f"== {(bench.__doc__ or '').splitlines()[0]}", flush=True)
    bench.main()
    print(f"   ({time.perf_counter() - began:.0f} s)", flush=True)


if __name__ == "__main__":
    main()
