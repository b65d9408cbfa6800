"""Quantities of the sources in both unit systems; their kind is found by their unit."""

from msgspec import UnsetType

from baybook.book.pint_quantities import KINDS, kinds_of
from baybook.book.source_model import Figure, Limit
from baycalc.quantities import dual_units
from baycalc.quantities.dual_units import Pair, show_pair, units_like, usual_units

__all__ = [
    "BOUNDS",
    "Pair",
    "bounds",
    "figure_text",
    "pair",
    "show_pair",
    "units_like",
    "usual_units",
]


def pair(text: str, kind: str = "", units: tuple[str, str] | None = None) -> Pair:
    """Write a quantity such as ``20 inHg`` for both systems, to the digits in which it is typed.

    Without ``units`` they are those that go with the one in which it is typed.

    Raises
    ------
    QuantityError
        When the text is no quantity, or none of the kind.
    """
    return dual_units.pair(text, kind or (kinds_of(text) or [KINDS[0]])[0], units)


BOUNDS = {"least": 0, "greatest": 1}
"""What may stand behind the name of a figure with bounds, such as `pump-current.least`."""


def figure_text(figure: Figure, name: str) -> str | None:
    """Return the quantity that a name means: the figure's value, or its bound behind a dot.

    Parameters
    ----------
    figure : Figure
        The figure of the car.
    name : str
        Its name, with or without `.least` or `.greatest`.

    Returns
    -------
    text : str, optional
        Nothing where the figure has no such value or bound.
    """
    end = name.partition(".")[2]
    if not end:
        return None if isinstance(figure.value, UnsetType) else figure.value
    return bounds(figure)[BOUNDS[end]] if end in BOUNDS else None


def bounds(limit: Limit | Figure) -> tuple[str | None, str | None]:
    """Return the texts of the least and the greatest value of a limit or figure."""
    if not isinstance(limit.between, UnsetType):
        return limit.between
    return _given(limit.at_least), _given(limit.at_most)


def _given(text: str | UnsetType) -> str | None:
    return None if isinstance(text, UnsetType) else text
