"""Observations: an answer or a reading, complete, with a limit that can be met."""

from msgspec import UNSET, UnsetType

from baybook.book.checks.check_quantities import check_limit, value_in
from baybook.book.context import Context
from baybook.book.figure_texts import bounds
from baybook.book.pint_quantities import KINDS, unit_table
from baybook.book.source_model import Limit, Observation, Test
from baybook.book.sources.load import VehicleSource
from baybook.book.sources.problem_report import name_hint
from baybook.book.sources.read import Path
from baycalc.quantities.units import QuantityError

HIGHEST_BAROMETER = 108_380.0
"""Highest air pressure on record, 1083.8 hPa, from memory [Pa]; no vacuum can be deeper."""


def check_observation(context: Context, path: Path, seen: Observation, test: Test) -> None:
    """Check one observation: an answer or a reading, complete, with known faults."""
    report = context.report
    _check_shown(context, path, seen)
    if bool(seen.asks) == bool(seen.reading):
        got = "both" if seen.asks else "neither"
        report.error(path, f"expected either asks or reading, got {got}")
    elif seen.asks:
        _check_answer(context, path, seen)
    else:
        _check_reading(context, path, seen, test)


def _check_shown(context: Context, path: Path, seen: Observation) -> None:
    """Check the faults that an observation shows, by one outcome or by several."""
    report, faults = context.report, context.data.faults
    groups = {("shows",): seen.shows} | {
        ("bands", name, "shows"): band.shows for name, band in seen.bands.items()
    }
    for place, shows in groups.items():
        for fault in shows:
            report.knows((*path, *place, fault), fault, faults, "a fault of this procedure")
    if seen.bands and seen.shows:
        report.error((*path, "shows"), "expected either shows or bands, got both")
    elif not any(groups.values()):
        report.error((*path, "shows"), "expected at least one fault, got none")


def _check_answer(context: Context, path: Path, seen: Observation) -> None:
    if seen.bands:
        _check_choices(context, path, seen)
    elif seen.good is UNSET:
        context.report.error(
            (*path, "good"),
            "expected yes or no, got nothing",
            "add the line good: yes, or good: no, the answer of a good car",
        )
    for name, given in _of_readings(seen):
        if given:
            context.report.error(
                (*path, name), f"expected no {name} beside asks, got one", "it belongs to a reading"
            )


def _check_choices(context: Context, path: Path, seen: Observation) -> None:
    """Check a question with several answers by name."""
    if not seen.normal:
        context.report.error(
            (*path, "normal"),
            "expected the answer of a good car in words, got nothing",
            "the abnormal ones stand in bands",
        )
    if seen.good is not UNSET:
        context.report.error((*path, "good"), "expected no good beside bands, got one")
    for name, band in seen.bands.items():
        if band.limit is not UNSET:
            there = (*path, "bands", name, "limit")
            context.report.error(there, "expected no limit beside asks, got one")


def _of_readings(seen: Observation) -> list[tuple[str, bool]]:
    return [
        ("kind", bool(seen.kind)),
        ("reference", bool(seen.reference)),
        ("units", bool(seen.units)),
        ("limit", seen.limit is not UNSET),
        ("gauge", seen.gauge is not UNSET),
    ]


def _check_reading(context: Context, path: Path, seen: Observation, test: Test) -> None:
    report = context.report
    if seen.good is not UNSET:
        report.error((*path, "good"), "expected no good beside reading, got one", "use limit")
    if not seen.kind:
        report.error(
            (*path, "kind"), "expected a kind of quantity, got nothing", "such as pressure"
        )
    elif report.knows((*path, "kind"), seen.kind, KINDS, "a kind of quantity"):
        _check_measured(context, path, seen, test)
    if isinstance(seen.limit, UnsetType):
        report.error((*path, "limit"), "expected the bounds of a good reading, got nothing")
    if isinstance(seen.gauge, UnsetType):
        report.error(
            (*path, "gauge"),
            "expected the tool that reads it, got nothing",
            "its uncertainty comes from there",
        )


def _check_measured(context: Context, path: Path, seen: Observation, test: Test) -> None:
    report = context.report
    if seen.kind == "pressure" and not seen.reference:
        report.error(
            (*path, "reference"),
            "expected one of vacuum, gauge, absolute; got nothing",
            "a pressure counts from somewhere",
        )
    elif seen.kind != "pressure" and seen.reference:
        report.error(
            (*path, "reference"), f"expected reference only for pressure, got one for {seen.kind}"
        )
    if not isinstance(seen.limit, UnsetType):
        cars = context.cars_with(test.when)
        check_limit(context, (*path, "limit"), seen.limit, seen.kind, cars)
        _check_bands(context, path, seen, cars)
        if seen.kind == "pressure":
            _check_possible(context, (*path, "limit"), seen, seen.limit, cars)
    _check_units(context, (*path, "units"), seen)
    _check_gauge(context, (*path, "gauge"), seen)


def _check_bands(
    context: Context, path: Path, seen: Observation, cars: tuple[VehicleSource, ...]
) -> None:
    for name, band in seen.bands.items():
        there = (*path, "bands", name, "limit")
        if isinstance(band.limit, UnsetType):
            context.report.error(there, "expected the bounds of this band, got nothing")
        else:
            check_limit(context, there, band.limit, seen.kind, cars)


def _check_possible(
    context: Context,
    path: Path,
    seen: Observation,
    limit: Limit,
    cars: tuple[VehicleSource, ...],
) -> None:
    """Report a vacuum deeper than the air is heavy, or a vacuum or absolute pressure below zero."""
    if seen.reference == "gauge":
        return
    for text in _bounds_on_cars(limit, cars):
        value = value_in("pressure", text, None)
        if value is not None and value < 0:
            what = f"expected {seen.reference} pressure without a minus sign, got {text}"
            context.report.error(path, what)
        elif value is not None and seen.reference == "vacuum" and value > HIGHEST_BAROMETER:
            what = f"expected a vacuum below the pressure of the air, got {text}"
            context.report.error(path, what, "about 29.9 inHg or 101 kPa at sea level")


def _bounds_on_cars(limit: Limit, cars: tuple[VehicleSource, ...]) -> set[str]:
    """Return the bounds that a limit has on any car, as texts."""
    found: set[str | None] = set()
    for car in cars or (None,):
        figures = car.data.figures if car else {}
        named = None if isinstance(limit.figure, UnsetType) else figures.get(limit.figure)
        for text in bounds(named or limit):
            figure = figures.get(text) if text else None
            given = figure.value if figure else text
            found.add(None if isinstance(given, UnsetType) else given)
    return {text for text in found if text is not None}


def _check_units(context: Context, path: Path, seen: Observation) -> None:
    if len(seen.units) not in (0, 2):
        context.report.error(path, f"expected two units, US then metric; got {len(seen.units)}")
    for place, symbol in enumerate(seen.units):
        try:
            unit_table().unit(seen.kind, symbol)
        except QuantityError:
            context.report.error(
                (*path, place),
                f"expected a unit of {seen.kind}, got {symbol}",
                name_hint(symbol, unit_table().symbols(seen.kind)),
            )


def _check_gauge(context: Context, path: Path, seen: Observation) -> None:
    if isinstance(seen.gauge, UnsetType) or "shared.yml" in context.book.left_out:
        return
    tools = {**context.book.shared.tools, **context.data.tools}
    if not context.report.knows(path, seen.gauge, tools, "a tool"):
        return
    scales = tools[seen.gauge].gauges
    if seen.kind not in scales:
        context.report.error(
            path,
            f"expected a tool with a scale for {seen.kind}, got {seen.gauge}",
            f"its scales: {', '.join(scales) or 'none'}",
        )
