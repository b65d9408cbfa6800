"""What the tests of a procedure can find on each car: every fault seen, and told from the others.

Told apart are faults as `baycalc.isolation.report.testability` reckons it, with all tests done.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field
from itertools import groupby
from typing import Any

from baybook.book.bound import BoundProcedure
from baybook.book.sources.load import ProcedureSource
from baybook.book.sources.problem_report import Report
from baybook.book.sources.problems import Problem
from baycalc.isolation.report.testability import DETECTED


@dataclass(slots=True)
class Shortfall:
    """What the tests of one procedure can not do, each with the cars on which they can not.

    ``groups`` are told without what nothing sees; ``whole`` are the same with it.
    """

    unseen: dict[str, list[str]] = field(default_factory=dict)
    faint: dict[str, dict[float, list[str]]] = field(default_factory=dict)
    groups: dict[tuple[str, ...], list[str]] = field(default_factory=dict)
    whole: set[tuple[str, ...]] = field(default_factory=set)


def check_isolation(bound: Iterable[BoundProcedure]) -> list[Problem]:
    """Warn of faults that no test sees, or not well, and of ambiguity groups not stated as such."""
    problems: list[Problem] = []
    for _, each in groupby(bound, key=lambda car: car.source.id):
        cars = list(each)
        source = cars[0].source
        found = Shortfall()
        for car in cars:
            _add(found, car.vehicle.id, car.testability)
        report = Report(source.lines, problems)
        _warn_of_detection(source, found, report)
        _warn_of_groups(source, found, report)
        _warn_of_stated(source, found, report)
    return problems


def _add(found: Shortfall, car: str, shown: Any) -> None:
    for fault in shown["unseen"]:
        found.unseen.setdefault(fault, []).append(car)
    for fault in shown["faint"]:
        chances = found.faint.setdefault(fault, {})
        chances.setdefault(shown["detection"][fault], []).append(car)
    for group in shown["groups"]:
        found.whole.add(tuple(group))
        seen = tuple(fault for fault in group if fault not in shown["unseen"])
        if len(seen) > 1:
            found.groups.setdefault(seen, []).append(car)


def _warn_of_detection(source: ProcedureSource, found: Shortfall, report: Report) -> None:
    named = {
        fault
        for test in source.data.tests.values()
        for seen in test.observations.values()
        for fault in seen.shown()
    }
    for fault, cars in found.unseen.items():
        # What no test names at all is told by the check of the faults.
        if fault in named:
            report.warning(
                ("faults", fault),
                f"expected a test that shows this fault on {', '.join(cars)}, got none",
                "compare `when` of the tests that show it with `has` of the vehicle",
            )
    for fault, chances in found.faint.items():
        got = ", ".join(f"{chance:.3g} on {', '.join(cars)}" for chance, cars in chances.items())
        report.warning(
            ("faults", fault),
            f"expected a chance of {DETECTED} or more that some test shows this fault, got {got}",
            "add a test that shows it better",
        )


def _warn_of_groups(source: ProcedureSource, found: Shortfall, report: Report) -> None:
    stated = [set(group) for group in source.data.ambiguity_groups]
    for group, cars in found.groups.items():
        if not any(set(group) <= names for names in stated):
            report.warning(
                ("faults", group[0]),
                f"expected tests that separate {' and '.join(group)} on {', '.join(cars)}, "
                "got much the same results with each",
                "add a test that shows one and not the other, or state that there is none: "
                f"ambiguity-groups: [[{', '.join(group)}]]",
            )


def _warn_of_stated(source: ProcedureSource, found: Shortfall, report: Report) -> None:
    for place, stated in enumerate(source.data.ambiguity_groups):
        mixed = {
            fault for group in found.whole if len(set(group) & set(stated)) > 1 for fault in group
        }
        separated = [fault for fault in stated if fault not in mixed]
        if separated:
            report.warning(
                ("ambiguity-groups", place),
                "expected faults that no test separates on some car, got "
                f"{' and '.join(separated)}, which tests tell from the others on every car",
                "take it out of the group, or the group away",
            )
