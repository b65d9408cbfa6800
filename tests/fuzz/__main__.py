"""`make fuzz`: many random inputs; prints each that went wrong, and fails with any."""

import sys

from tests.fuzz.calculators import fuzz_calculators

from baybook.book.pint_quantities import unit_table_data
from baycalc import api


def main() -> int:
    """Try the calculators; the command line may say how many inputs, and with which seed."""
    count, seed = (int(word) for word in (*sys.argv[1:], "100000", "20261126")[:2])
    api.install(unit_table_data())
    found = fuzz_calculators(count, seed)
    for problem in found:
        print(problem)
    print(f"{count} inputs of the calculators, {len(found)} that went wrong")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
