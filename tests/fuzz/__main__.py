"""`make fuzz`: many random inputs; prints each that went wrong, and fails with any."""

import subprocess
import sys
from collections.abc import Iterable
from pathlib import Path

from tests.fuzz.addresses import fuzz_addresses
from tests.fuzz.calculators import fuzz_calculators
from tests.fuzz.sources import fuzz_sources

from baybook.book.pint_quantities import unit_table_data
from baybook.runtime.node import find_node
from baycalc import api

COUNTS = {"calculators": 100_000, "sources": 20_000, "sheets": 5000, "addresses": 1000}
SHEETS = Path(__file__).with_name("sheets.mjs")


def main(words: Iterable[str]) -> int:
    """Try all, or what the command line names: ``sources=500 seed=7``."""
    wanted = dict(word.split("=") for word in words)
    seed = int(wanted.pop("seed", "20261126"))
    counts = {name: int(wanted.get(name, COUNTS[name])) for name in wanted or COUNTS}
    api.install(unit_table_data())
    wrong = 0
    for name, count in counts.items():
        if name == "sheets":
            command = [find_node().node, SHEETS, str(count), str(seed)]
            wrong += subprocess.run(command, check=False).returncode
            continue
        clean = ""
        if name == "sources":
            found, passed = fuzz_sources(count, seed)
            clean = f", {passed} of them without a mistake"
        else:
            found = {"calculators": fuzz_calculators, "addresses": fuzz_addresses}[name](
                count, seed
            )
        print(*found, sep="\n", end="\n" if found else "")
        print(f"{name}: {count} tried{clean}, {len(found)} that went wrong", flush=True)
        wrong += len(found)
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
