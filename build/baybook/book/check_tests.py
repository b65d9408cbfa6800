"""References of tests: set-ups, tools, faults, and their order."""

from msgspec import UNSET, UnsetType

from baybook.book.check_quantities import check_limit
from baybook.book.context import Context
from baybook.book.model import Observation, Test
from baybook.book.quantities import KINDS, unit_table
from baybook.book.read import Path
from baybook.book.report import name_hint
from baycalc.units import QuantityError


def check_tests(context: Context) -> None:
    """Check every test and its observations."""
    for name, test in context.data.tests.items():
        path: Path = ("tests", name)
        _check_places(context, path, test)
        if not test.observations:
            context.report.error(
                (*path, "observations"), "expected at least one observation, got none"
            )
        for seen_name, seen in test.observations.items():
            check_observation(context, (*path, "observations", seen_name), seen, test)


def _check_places(context: Context, path: Path, test: Test) -> None:
    report, data = context.report, context.data
    if "shared" in context.book.left_out:
        return
    if not isinstance(test.setup, UnsetType):
        setups = {**context.book.shared.setups, **data.setups}
        report.knows((*path, "setup"), test.setup, setups, "a set-up")
    tools = {**context.book.shared.tools, **data.tools}
    for place, tool in enumerate(test.tools):
        report.knows((*path, "tools", place), tool, tools, "a tool")


def check_observation(context: Context, path: Path, seen: Observation, test: Test) -> None:
    """Check one observation: an answer or a reading, complete, with known faults."""
    report = context.report
    for fault in seen.shows:
        report.knows(
            (*path, "shows", fault), fault, context.data.faults, "a fault of this procedure"
        )
    if not seen.shows:
        report.error((*path, "shows"), "expected at least one fault, got none")
    if bool(seen.asks) == bool(seen.reading):
        got = "both" if seen.asks else "neither"
        report.error(path, f"expected either asks or reading, got {got}")
    elif seen.asks:
        _check_answer(context, path, seen)
    else:
        _check_reading(context, path, seen, test)


def _check_answer(context: Context, path: Path, seen: Observation) -> None:
    if seen.good is UNSET:
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
        check_limit(context, (*path, "limit"), seen.limit, seen.kind, context.cars_with(test.when))
    _check_units(context, (*path, "units"), seen)
    _check_gauge(context, (*path, "gauge"), seen)


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
    if isinstance(seen.gauge, UnsetType) or "shared" in context.book.left_out:
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
