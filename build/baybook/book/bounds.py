"""The bounds of numbers that an author or a publisher writes, the same wherever they are read."""

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Bounds:
    """The least and the greatest number that serve."""

    least: float
    greatest: float

    def problem(self, value: object) -> str:
        """Say what is wrong with a value, or nothing."""
        if isinstance(value, int | float) and not isinstance(value, bool):
            if math.isfinite(value) and self.least <= value <= self.greatest:
                return ""
            got = f"{value:g}"
        else:
            got = str(value)[:40]
        return f"expected a number from {self.least:g} to {self.greatest:,.0f}, got {got}"


LABOUR_PER_HOUR = Bounds(0, 10_000)
"""What an hour of work may cost [money/h]."""

GREATEST_PRICE = 100_000
"""Greatest price of the parts of a repair [money]."""

GREATEST_WEIGHT = 100_000
"""Greatest weight of a fault, relative to the other faults of a procedure [-]."""

LONGEST_TEXT = 5000
"""Letters of one text of the front matter [-]."""

LARGEST_SOURCE = 1_000_000
"""Bytes of one source [B]."""
