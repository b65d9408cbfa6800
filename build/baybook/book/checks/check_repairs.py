"""What repairs clear, what results forbid, short names, and how long a car must stand."""

from msgspec import UnsetType

from baybook.book.checks.check_quantities import check_quantity
from baybook.book.context import Context
from baybook.book.source_model import Setup
from baybook.book.sources.problem_report import Report
from baybook.book.sources.read import Path

SHORT = 5
"""Most words of a short name [-]."""


def check_repairs(context: Context) -> None:
    """Check the faults that each repair clears too, and the short names."""
    data, report = context.data, context.report
    for name, fault in data.faults.items():
        _check_short(report, ("faults", name, "short"), fault.short)
        cured = fault.repair.also_cures
        for place, other in enumerate(() if isinstance(cured, UnsetType) else cured):
            path: Path = ("faults", name, "repair", "also-cures", place)
            report.knows(path, other, data.faults, "a fault of this procedure")
            if other == name:
                report.error(path, "expected another fault, got this fault itself")
    for name, test in data.tests.items():
        _check_short(report, ("tests", name, "short"), test.short)
        _check_opening(context, name)
        for seen_name, seen in test.observations.items():
            where: Path = ("tests", name, "observations", seen_name)
            _check_stops(context, where, name, seen.stops)
            for band_name, band in seen.bands.items():
                _check_stops(context, (*where, "bands", band_name), name, band.stops)


def check_wait(report: Report, setups: dict[str, Setup]) -> None:
    """Check the time that a car must stand for a set-up."""
    for name, setup in setups.items():
        if not isinstance(setup.wait, UnsetType):
            check_quantity(report, ("setups", name, "wait"), "time", setup.wait)


def _check_short(report: Report, path: Path, text: str) -> None:
    if len(text.split()) > SHORT:
        report.error(
            path, f"expected at most {SHORT} words, got {len(text.split())}", "cut it to the core"
        )


def _check_opening(context: Context, name: str) -> None:
    tests = context.data.tests
    for place, other in enumerate(tests[name].after):
        if tests[name].opening and other in tests and not tests[other].opening:
            context.report.error(
                ("tests", name, "after", place),
                f"expected another opening test, got {other}",
                f"add opening: yes to {other}, or take it out here",
            )


def _check_stops(context: Context, path: Path, test: str, stops: tuple[str, ...]) -> None:
    data = context.data
    for place, name in enumerate(stops):
        there = (*path, "stops", place)
        known = {**data.tests, **data.setups}
        context.report.knows(there, name, known, "a test or a set-up of this procedure")
        if name == test:
            context.report.error(there, "expected another test, got this test itself")
