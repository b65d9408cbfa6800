"""Quantities held against their kind, limits against their order."""

from msgspec import UNSET, UnsetType

from baybook.book.car import is_figure
from baybook.book.context import Context
from baybook.book.figure_texts import BOUNDS, bounds, figure_text, usual_units
from baybook.book.pint_quantities import kinds_of, unit_table
from baybook.book.source_model import Figure, Gauge, Limit
from baybook.book.sources.load import VehicleSource
from baybook.book.sources.problem_report import Report
from baybook.book.sources.read import Path
from baycalc.quantities.units import QuantityError


def wrong_quantity(kind: str, text: str) -> tuple[str, str]:
    """Say why a text is not a quantity of a kind; empty where it is one."""
    try:
        unit_table().parse(kind, text)
    except QuantityError as error:
        units = ", ".join(unit_table().symbols(kind))
        others = kinds_of(text)
        if "ratio" in others:
            why = f"{text} without a unit" if "%" not in text else f"{text} (ratio)"
        elif others:
            why = f"{text} ({others[0]})"
        else:
            return f"expected {kind} such as 20 {usual_units(kind)[0]}, got {text}", str(error)
        return f"expected {kind}, got {why}", f"units of {kind}: {units}"
    return "", ""


def check_quantity(report: Report, path: Path, kind: str, text: str) -> float | None:
    """Read a literal quantity of a known kind; report what is wrong with it."""
    wrong, hint = wrong_quantity(kind, text)
    if wrong:
        report.error(path, wrong, hint)
        return None
    return unit_table().parse(kind, text)


def check_gauge(report: Report, path: Path, kind: str, gauge: Gauge) -> None:
    """Check one scale of a tool."""
    scale = f"{kind} difference" if kind == "temperature" else kind
    for name, text in (("span", gauge.span), ("resolution", gauge.resolution)):
        if not isinstance(text, UnsetType):
            value = check_quantity(report, (*path, name), scale, text)
            if value is not None and value <= 0.0:
                report.error((*path, name), f"expected a {name} above zero, got {text}")
    if gauge.grade and isinstance(gauge.span, UnsetType):
        report.error(
            (*path, "grade"),
            f"expected span beside grade {gauge.grade}, got nothing",
            "a grade is a share of the span: add the line span: ...",
        )


def check_order(
    report: Report, path: Path, texts: tuple[str, str], low: float | None, high: float | None
) -> None:
    """Report bounds of which the least lies above the greatest."""
    if low is not None and high is not None and low > high:
        report.error(path, f"expected the lesser bound first, got {texts[0]} to {texts[1]}")


def check_limit(
    context: Context, path: Path, limit: Limit, kind: str, cars: tuple[VehicleSource, ...]
) -> None:
    """Check the bounds of a reading, for every car that it is made on."""
    if not _one_form(context.report, path, limit):
        return
    if not isinstance(limit.figure, UnsetType):
        _check_limit_figure(context, (*path, "figure"), limit.figure, kind, cars)
        return
    low, high = bounds(limit)
    paths = _bound_paths(path, limit)
    for text, place in zip((low, high), paths, strict=True):
        if text is not None:
            check_value(context, place, kind, text, cars)
    if low is not None and high is not None:
        for car in cars or (None,):
            values = (value_in(kind, low, car), value_in(kind, high, car))
            check_order(context.report, path, (low, high), *values)


def _one_form(report: Report, path: Path, limit: Limit) -> bool:
    forms = [
        name
        for name, given in (
            ("figure", limit.figure is not UNSET),
            ("between", limit.between is not UNSET),
            ("at-least or at-most", limit.at_least is not UNSET or limit.at_most is not UNSET),
        )
        if given
    ]
    if len(forms) == 1:
        return True
    got = " and ".join(forms) or "nothing"
    report.error(path, f"expected one of between, at-least, at-most, figure; got {got}")
    return False


def _bound_paths(path: Path, limit: Limit | Figure) -> tuple[Path, Path]:
    if isinstance(limit.between, UnsetType):
        return (*path, "at-least"), (*path, "at-most")
    return (*path, "between", 0), (*path, "between", 1)


def check_value(
    context: Context, path: Path, kind: str, text: str, cars: tuple[VehicleSource, ...]
) -> None:
    """Check a quantity, or the figure of each car that it names."""
    if not is_figure(text):
        check_quantity(context.report, path, kind, text)
        return
    name, _, end = text.partition(".")
    if end and end not in BOUNDS:
        context.report.error(path, f"expected {name}.least or {name}.greatest, got {text}")
        return
    for car, figure in context.figures(path, name, cars):
        found = figure_text(figure, text)
        if found is None:
            what, hint = (f"a {end} value", "") if end else ("value", f"or a bound: {name}.least")
            _figure_lacks(context.report, path, text, car, what, hint)
        else:
            _check_figure_kind(context.report, path, text, car, kind, found)


def _check_limit_figure(
    context: Context, path: Path, name: str, kind: str, cars: tuple[VehicleSource, ...]
) -> None:
    for car, figure in context.figures(path, name, cars):
        given = [text for text in bounds(figure) if text is not None]
        if not given:
            _figure_lacks(context.report, path, name, car, "between, at-least or at-most")
        for text in given:
            _check_figure_kind(context.report, path, name, car, kind, text)


def _figure_lacks(
    report: Report, path: Path, name: str, car: VehicleSource, what: str, hint: str = ""
) -> None:
    place = figure_place(car, name)
    report.error(path, f"expected a figure with {what}, got {name} of {place}", hint)


def _check_figure_kind(
    report: Report, path: Path, name: str, car: VehicleSource, kind: str, text: str
) -> None:
    others = kinds_of(text)
    if others and kind not in others:
        place = figure_place(car, name)
        report.error(path, f"expected {kind}, got {name}, which is {text} ({others[0]}) in {place}")


def figure_place(car: VehicleSource, name: str) -> str:
    """Return file and line of a figure."""
    return f"{car.lines.file}:{car.lines.line(('figures', name.partition('.')[0]))}"


def value_in(kind: str, text: str, car: VehicleSource | None) -> float | None:
    """Return the SI value of a quantity or of the figure it names, where there is one."""
    if is_figure(text):
        figure = car.data.figures.get(text.partition(".")[0]) if car else None
        given = figure_text(figure, text) if figure else None
        if given is None:
            return None
        text = given
    return None if wrong_quantity(kind, text)[0] else unit_table().parse(kind, text)
