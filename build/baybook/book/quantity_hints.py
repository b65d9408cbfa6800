"""How a text that is no quantity was most likely meant."""

import difflib
import functools
import re

from baybook.book.pint_quantities import unit_table_data

_RANGE = re.compile(r"\s*([\d.,/]+)\s*(?:-|–|to)\s*([\d.,/]+)\s*(\D+?)\s*")
_UNIT = re.compile(r"[-+−]?[\d.,/\s½¼¾⅛⅜⅝⅞]+(\D.*)")
USUAL = "such as 20 inHg, 12.6 V or 7.5 A"


def quantity_hint(text: str) -> str:
    """Return what helps with a text that is no quantity: two numbers, a misspelt unit, or none."""
    both = _RANGE.fullmatch(text)
    if both:
        low, high, unit = both.groups()
        return f"two bounds are written between: [{low} {unit}, {high} {unit}]"
    unit_of = _UNIT.fullmatch(text.strip())
    if unit_of:
        near = difflib.get_close_matches(unit_of[1].strip(), _spellings(), n=3, cutoff=0.6)
        if near:
            return f"did you mean {' or '.join(near)}?"
    return USUAL


@functools.cache
def _spellings() -> tuple[str, ...]:
    """Return the symbols of all units, and how else they are spelt."""
    symbols = [symbol for kind in unit_table_data().values() for symbol in kind["units"]]
    return tuple(dict.fromkeys(symbols))
