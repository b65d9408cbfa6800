"""The places of a page that one car fills in: figures, where things are, limits, entries of forms.

A page asks; a car answers with texts of both unit systems. The generator answers for the cars of
a book, the browser for a reader's own car, both with this module.
"""

from collections.abc import Callable, Mapping
from typing import Any

from baycalc.forms.declare import Calculator, Quantity
from baycalc.forms.entry_units import entry
from baycalc.quantities.dual_units import Pair, pair, units_like, usual_units
from baycalc.quantities.units import installed, label

Ask = Mapping[str, Any]
"""What a place asks for: ``form`` (``figure``, ``where``, ``limit`` or ``entry``) and its words.

``figure``: ``figure`` (name), ``kind``. ``where``: ``figure``. ``limit``: ``figure``, or ``low``
and ``high`` (texts, names of figures, or empty); ``kind``; ``units`` (US, metric), or empty.
``entry``: ``text`` (name of a figure), ``calculator``, ``field``.
"""

Figures = Mapping[str, Mapping[str, Any]]
"""Figures as a vehicle file has them: ``value``, ``between``, a bound, ``text``, ``where``."""

BOUNDS = {"least": 0, "greatest": 1}
"""What may stand behind the name of a figure with bounds, such as `pump-current.least`."""


def key_of(ask: Ask) -> str:
    """Return the name of a place: alike for all places that ask for the same.

    It holds nothing that a table of Markdown would take for the end of a cell.
    """
    words = (value if isinstance(value, str) else _joined(value) for value in ask.values())
    return ":".join(words)


def _joined(value: Any) -> str:
    return "" if value is None else ",".join(map(str, value))


def place(
    ask: Ask, figures: Figures, describe: Callable[[str], Calculator]
) -> dict[str, Any] | None:
    """Answer what a place asks for, for one car.

    Parameters
    ----------
    ask : Mapping
        What the place asks for.
    figures : Mapping
        The figures of the car, by name.
    describe : callable
        Gives the declaration of a calculator by its id.

    Returns
    -------
    dict, optional
        ``texts`` (a text, or a list of the US text, the metric text and both as one); of a limit
        also ``low``, ``high``, ``units`` and their ``labels``; of an entry ``us``, ``metric``,
        ``unit_us`` and ``unit_metric`` instead. Nothing where the car lacks a figure.
    """
    match ask["form"]:
        case "where":
            where = figures.get(ask["figure"], {}).get("where")
            return {"texts": [where]} if where else None
        case "figure":
            return _figure(figures.get(ask["figure"]), ask["kind"])
        case "limit":
            return _limit(ask, figures)
        case _:
            return _entry(ask, figures, describe)


def bounds_of(figure: Mapping[str, Any]) -> tuple[str | None, str | None]:
    """Return the texts of the least and the greatest value of a figure."""
    if "between" in figure:
        least, greatest = figure["between"]
        return least, greatest
    return figure.get("at-least"), figure.get("at-most")


def text_of(name: str, figures: Figures) -> str | None:
    """Return the text that a name means: the figure's value, or its bound behind a dot."""
    figure, _, end = name.partition(".")
    if figure not in figures:
        return None
    return bounds_of(figures[figure])[BOUNDS[end]] if end else figures[figure].get("value")


def _figure(figure: Mapping[str, Any] | None, kind: str) -> dict[str, Any] | None:
    if figure is None:
        return None
    if figure.get("text"):
        return {"texts": [figure["text"]]}
    if not kind:
        return None
    if "value" in figure:
        return {"texts": [_both(pair(figure["value"], kind))]}
    if figure.get("text"):
        return {"texts": [figure["text"]]}
    low, high = (None if text is None else pair(text, kind) for text in bounds_of(figure))
    texts = between_texts(low, high)
    return {"texts": texts} if texts else None


def _both(written: Pair) -> list[str]:
    return [written.us, written.metric, str(written)]


def between_texts(low: Pair | None, high: Pair | None) -> list[Any]:
    """Return bounds in words: a to b, at least, at most, or nothing without any."""
    if low and high:
        return [_both(low), " to ", _both(high)]
    if low:
        return ["at least ", _both(low)]
    return ["at most ", _both(high)] if high else []


def _limit(ask: Ask, figures: Figures) -> dict[str, Any] | None:
    kind = ask["kind"]
    if ask["figure"]:
        if ask["figure"] not in figures:
            return None
        named = bounds_of(figures[ask["figure"]])
    else:
        named = ask["low"] or None, ask["high"] or None
    low, high = (_looked_up(text, figures) for text in named)
    if (low, high) == (None, None) or any(
        text and not found for text, found in zip(named, (low, high), strict=True)
    ):
        return None
    units = tuple(ask["units"]) or units_of_limit(kind, low or high)
    both = [None if text is None else pair(text, kind, units) for text in (low, high)]
    si = [None if text is None else installed().parse(kind, text) for text in (low, high)]
    return {
        "texts": between_texts(*both),
        "low": si[0],
        "high": si[1],
        "units": [*units],
        "labels": [label(unit) for unit in units],
    }


def units_of_limit(kind: str, text: str | None) -> tuple[str, str]:
    """Return the US and the metric unit of a reading that is held against a limit."""
    return units_like(kind, text) if text else usual_units(kind)


def _looked_up(text: str | None, figures: Figures) -> str | None:
    return text_of(text, figures) if text and is_figure(text) else text


def is_figure(text: str) -> bool:
    """Tell whether a text names a figure of the vehicle (and is no quantity)."""
    return text[:1].isalpha() and not text.upper().startswith("AWG ")


def _entry(
    ask: Ask, figures: Figures, describe: Callable[[str], Calculator]
) -> dict[str, Any] | None:
    text = text_of(ask["text"], figures)
    if text is None:
        return None
    inputs = {field.id: field for field in describe(ask["calculator"]).inputs}
    field = inputs[ask["field"]]
    assert isinstance(field, Quantity)
    return {**entry(field, text)}
