"""A trial of the tests: small random changes to the sources, one at a time, and who notices.

``python -m tests.mutants [NUMBER [SEED]]`` or ``make mutants``. Takes the sources as they were
committed. Each change is shown to the test file of its module; if that notices nothing, to the
tests around it. Changes that make no difference stand in `equivalent.txt` beside this file.
"""

import os
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from queue import SimpleQueue
from random import Random

from tests.kept import ROOT, RUNTIME_CACHE
from tests.mutants.changes import Change, changes

NUMBER, SEED, AT_ONCE = 200, 20261126, 2
KINDS = ("comparison", "operator", "constant", "dropped line")
HALVES = {"calc/baycalc": "tests/calc", "build/baybook": "tests/build"}
AROUND = {
    "calc/baycalc/isolation": ["tests/calc/isolation"],
    "calc/baycalc": ["tests/calc", "--ignore=tests/calc/isolation"],
    "build/baybook/runtime": ["tests/build/runtime", "tests/build/test_plugin.py"],
    "build/baybook": ["tests/build", "--ignore=tests/build/runtime"],
}
PATIENCE = 1200
"""After this long a change counts as noticed: it made something endless [s]."""

PYTEST = ("-m", "pytest", "-x", "-k", "not exhaustive_search")
EQUIVALENT = Path(__file__).with_name("equivalent.txt")


def drawn(number: int, seed: int) -> list[Change]:
    """Draw changes at random, as many of each kind."""
    found: dict[str, list[Change]] = {kind: [] for kind in KINDS}
    for half in HALVES:
        for path in sorted((ROOT / half).rglob("*.py")):
            place = path.relative_to(ROOT).as_posix()
            for change in changes(place, path.read_bytes()):
                found[change.kind].append(change)
    rng = Random(seed)
    listed = [change for kind in KINDS for change in rng.sample(found[kind], number // len(KINDS))]
    rng.shuffle(listed)
    return listed


def mirrors(path: str) -> list[str]:
    """Return the test files of a module, nearest first by the rooms they share."""
    module = Path(path)
    half = next(tests for sources, tests in HALVES.items() if path.startswith(sources))
    named = sorted((ROOT / half).rglob(f"test_{module.stem}.py"))
    named += sorted((ROOT / half).rglob(f"test_{module.parent.name}.py"))
    return [test.relative_to(ROOT).as_posix() for test in named]


def around(path: str) -> list[str]:
    """Return what else may notice a change: the tests of its rooms."""
    return next(tests for rooms, tests in AROUND.items() if path.startswith(rooms))


def run(copy: Path, tests: list[str], told: int = subprocess.DEVNULL) -> bool:
    """Tell whether tests pass in a copy of the project."""
    search = os.pathsep.join(str(copy / half) for half in ("calc", "build"))
    try:
        done = subprocess.run(
            [sys.executable, *PYTEST, *tests],
            cwd=copy,
            env={**os.environ, "PYTHONPATH": search, "PYTHONDONTWRITEBYTECODE": "1"},
            stdout=told,
            stderr=subprocess.DEVNULL,
            timeout=PATIENCE,
            check=False,
        )
    except subprocess.TimeoutExpired:
        return False
    return done.returncode in (0, 5)  # 5: no test was chosen


def survives(copy: Path, change: Change) -> bool:
    """Tell whether no test notices a change."""
    file = copy / change.path
    source = file.read_bytes()
    file.write_bytes(change.applied(source))
    try:
        nearest = mirrors(change.path)
        return (not nearest or run(copy, nearest)) and run(copy, around(change.path))
    finally:
        file.write_bytes(source)


def copies(folder: Path) -> Iterator[Path]:
    """Clone the project for each of those that work at once."""
    for number in range(AT_ONCE):
        copy = folder / str(number)
        subprocess.run(["git", "clone", "--quiet", ROOT, copy], check=True)
        (copy / ".cache").mkdir()
        subprocess.run(["cp", "-a", RUNTIME_CACHE, copy / ".cache"], check=True)
        yield copy


def survivors(listed: list[Change]) -> Iterator[Change]:
    """Try changes, and give those that survive as they are found."""
    free: SimpleQueue[Path] = SimpleQueue()

    def tried(change: Change) -> bool:
        copy = free.get()
        try:
            return survives(copy, change)
        finally:
            free.put(copy)

    with tempfile.TemporaryDirectory() as folder, ThreadPoolExecutor(AT_ONCE) as pool:
        for copy in copies(Path(folder)):
            free.put(copy)
        copy = free.get()
        for rooms, tests in AROUND.items():
            if not run(copy, tests, sys.stdout.fileno()):
                sys.exit(f"the tests of {rooms} fail without any change: mend them first")
        free.put(copy)
        for change, survived in zip(listed, pool.map(tried, listed), strict=True):
            if survived:
                yield change


def main(number: int = NUMBER, seed: int = SEED) -> None:
    """Try the changes and print who survived."""
    listed = drawn(number, seed)
    equivalent = EQUIVALENT.read_text("utf-8") if EQUIVALENT.exists() else ""
    alive = same = 0
    for change in survivors(listed):
        told = change.told((ROOT / change.path).read_bytes())
        known = told in equivalent
        same, alive = same + known, alive + (not known)
        mark = "makes no difference" if known else "survived"
        print(f"{mark} ({change.kind}, line {change.line}) {told}", flush=True)
    count = len(listed) - same
    print(f"{alive} of {count} changes survived ({alive / count:.1%}); {same} made no difference")


if __name__ == "__main__":
    main(*map(int, sys.argv[1:]))
