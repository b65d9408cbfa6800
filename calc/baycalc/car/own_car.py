"""A car that a reader enters: checked as a vehicle file is, and answered as a car of the book."""

from collections.abc import Callable, Mapping
from typing import Any

from baycalc.car.places import bounds_of, place
from baycalc.car.serving import difference, page_for, serves
from baycalc.forms.declare import Calculator
from baycalc.quantities.units import QuantityError, installed
from baycalc.text import sentence

Json = dict[str, Any]

_QUANTITIES = ("value", "at-least", "at-most")
_LONGEST = 200


def answer_car(request: Mapping[str, Any], describe: Callable[[str], Calculator]) -> Json:
    """Check a car of one's own and answer the places of every page that serves it.

    Parameters
    ----------
    request : Mapping
        ``vehicle`` (fields of a vehicle file) and ``catalog`` (``procedures`` by id, ``asks`` by
        the name of the place, ``figures`` by name with their ``kind``, ``equipment`` in words).
    describe : callable
        Gives the declaration of a calculator by its id.

    Returns
    -------
    dict
        ``errors`` (a sentence by field, such as ``figures.fuse.value``), ``answered`` (the data of
        the car as a page reads them, without what has a mistake) and ``serving`` (for each
        procedure ``procedure``, ``title``, ``page``, ``differs`` and ``open``: figures that it
        asks for and the car has not yet).
    """
    vehicle, catalog = request["vehicle"], request["catalog"]
    errors = _named(vehicle)
    figures = _checked(vehicle.get("figures") or {}, catalog["figures"], errors)
    has = [item for item in vehicle.get("has") or () if item in catalog["equipment"]]
    serving = [
        _serving(name, procedure, has, figures, catalog)
        for name, procedure in catalog["procedures"].items()
        if serves(procedure, has)
    ]
    places = {key: place(ask, figures, describe) for key, ask in catalog["asks"].items()}
    answered = {
        "name": str(vehicle.get("name") or ""),
        "engine": str(vehicle.get("engine") or ""),
        "invented": False,
        "has": has,
        "pages": {each["procedure"]: each["page"] for each in serving if each["page"]},
        "differs": {each["procedure"]: each["differs"] for each in serving if each["differs"]},
        "places": {key: found for key, found in places.items() if found},
    }
    return {"errors": errors, "answered": answered, "serving": serving}


def _named(vehicle: Mapping[str, Any]) -> dict[str, str]:
    asked = (("name", "make, model and years"), ("engine", "the engine in a few words"))
    errors = {}
    for field, what in asked:
        text = vehicle.get(field)
        if not isinstance(text, str) or not text.strip():
            errors[field] = f"Expected {what}, got nothing."
        elif len(text) > _LONGEST:
            errors[field] = f"Expected at most {_LONGEST} letters, got {len(text)}."
    return errors


def _checked(
    figures: Mapping[str, Any], known: Mapping[str, Any], errors: dict[str, str]
) -> dict[str, dict[str, Any]]:
    """Return the figures without those that have a mistake, which is noted."""
    good: dict[str, dict[str, Any]] = {}
    for name, figure in figures.items():
        if not isinstance(figure, Mapping):
            errors[f"figures.{name}"] = "Expected the fields of a figure."
            continue
        kind = known.get(name, {}).get("kind", "")
        mistakes = _mistakes(figure, kind)
        errors |= {f"figures.{name}.{field}": text for field, text in mistakes.items()}
        if not mistakes:
            good[name] = dict(figure)
    return good


def _mistakes(figure: Mapping[str, Any], kind: str) -> dict[str, str]:
    found: dict[str, str] = {}
    texts = {field: figure[field] for field in _QUANTITIES if field in figure}
    if "between" in figure:
        texts |= dict(zip(("least", "greatest"), figure["between"], strict=False))
    values = {}
    for field, text in texts.items():
        try:
            values[field] = _value(kind, text)
        except QuantityError as problem:
            found[field] = sentence(str(problem))
    low, high = bounds_of(figure)
    if (
        not found
        and low is not None
        and high is not None
        and _value(kind, low) > _value(kind, high)
    ):
        found["greatest"] = f"Expected at least {low}, got {high}."
    return found


def _value(kind: str, text: Any) -> float:
    """Read a quantity; a figure that no procedure of the book asks for may be of any kind."""
    table = installed()
    if kind:
        return table.read(kind, str(text)).si
    for each in table.kinds():
        try:
            return table.read(each, str(text)).si
        except QuantityError:
            continue
    raise QuantityError(f"expected a quantity with its unit, got {text}")


def _serving(
    name: str,
    procedure: Mapping[str, Any],
    has: list[str],
    figures: Mapping[str, Any],
    catalog: Mapping[str, Any],
) -> Json:
    page, more, less = page_for(procedure, has)
    return {
        "procedure": name,
        "title": procedure["title"],
        "page": page,
        "differs": difference(more, less, catalog["equipment"]),
        "open": [figure for figure in procedure["figures"] if figure not in figures],
    }
