"""Every measurement, in a few lines each: ``python -m tests.bench`` or ``make bench``."""

import time

from tests.bench import (
    build_bench,
    every_page,
    exercise_bench,
    growth_bench,
    isolation_bench,
    learning_bench,
    page_bench,
    runtime_bench,
)

BENCHES = (
    build_bench,
    growth_bench,
    runtime_bench,
    page_bench,
    isolation_bench,
    every_page,
    exercise_bench,
    learning_bench,
)


def main() -> None:
    """Measure one thing after the other."""
    for bench in BENCHES:
        began = time.perf_counter()
        print(f"== {(bench.__doc__ or '').splitlines()[0]}", flush=True)
        bench.main()
        print(f"   ({time.perf_counter() - began:.0f} s)", flush=True)


if __name__ == "__main__":
    main()
