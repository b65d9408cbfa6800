"""How long tests, set-ups and repairs took, and what parts cost, from the entries of a job."""

import math
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from scipy.special import stdtrit

from baybook.book.sources.read import Path
from baybook.learning.sheet_file import SheetEvent

SPREAD = 0.5
"""Standard deviation of the logarithm of a time, before anything is known; common practice, no
source [-]."""

PAUSE = 6.0
"""How many times the author's minutes a span may last; what is longer was a pause; common
practice, no source [-]."""

SHORTEST = 1 / 6
"""Part of the author's minutes below which two entries were made at once; common practice, no
source [-]."""

FAR_OFF = 20.0
"""How many times the author's price an amount may be off; beyond that it is a slip of the hand;
common practice, no source [-]."""

AMOUNT = re.compile(r"\D{0,4}(\d{1,7}(?:[.,]\d{1,2})?)\D{0,4}")

LEVEL = 0.9
"""Level of the intervals [-]."""


@dataclass(frozen=True, slots=True)
class Span:
    """The time from one entry to the next, with all that was done in it; or a price.

    Attributes
    ----------
    paths : tuple
        Where the author's minutes of it, or the price, stand in the source.
    ratio : float
        Logarithm of the time in parts of the author's minutes, or of the price likewise [-].
    """

    paths: tuple[Path, ...]
    ratio: float


@dataclass(frozen=True)
class LearnedTime:
    """Minutes or a price, with what the jobs say of them.

    Attributes
    ----------
    path : tuple
        Where they stand in the source.
    before, now, least, greatest : float
        The author's mean, the new one, and its 90 % interval [min], or money.
    jobs : int
        How many spans were measured [-].
    """

    path: Path
    before: float
    now: float
    least: float
    greatest: float
    jobs: int


def spans(network: dict[str, Any], entries: list[SheetEvent]) -> Iterator[Span]:
    """Give what the times of a job's entries say.

    Parameters
    ----------
    network : dict
        The network as plain data [-]
    entries : list of SheetEvent
        The entries of one procedure, in their order.

    Notes
    -----
    A test ends with the last of its results. What is six times as long as planned was a pause,
    what is shorter than a sixth was noted later together; neither counts.
    """
    tests = {test["id"]: test for test in network["tests"]}
    repairs = {fault["id"]: fault["repair"]["minutes"] for fault in network["faults"]}
    prices = {fault["id"]: fault["repair"]["price"] for fault in network["faults"]}
    setup: str | None = None
    for place, entry in enumerate(entries):
        if not place:
            continue
        minutes = (entry.at - entries[place - 1].at).total_seconds() / 60
        paths: tuple[Path, ...] = ()
        planned = 0.0
        if entry.type in ("result", "done") and entry.test in tests:
            if entries[place - 1].type == "result" and entries[place - 1].test == entry.test:
                continue  # another answer of the same test
            last = place
            while last + 1 < len(entries) and entries[last + 1].test == entry.test:
                last += 1
            minutes = (entries[last].at - entries[place - 1].at).total_seconds() / 60
            test = tests[entry.test]
            paths, planned = (("tests", entry.test, "minutes"),), test["minutes"]
            if test["setup"] and test["setup"] != setup:
                paths = (*paths, ("setups", test["setup"], "minutes"))
                planned += network["setups"][test["setup"]]["minutes"]
            setup = test["setup"]
        elif entry.type == "repair" and entry.fault in repairs:
            yield from _price(entry, prices.get(entry.fault, 0.0))
            paths = (("faults", entry.fault, "repair", "minutes"),)
            planned = repairs[entry.fault]
        elif entry.type == "recheck":
            paths, planned = (("recheck",),), network["recheck_minutes"]
        if paths and planned > 0.0 and SHORTEST < minutes / planned < PAUSE:
            yield Span(paths, math.log(minutes / planned))


def _price(entry: SheetEvent, planned: float) -> Iterator[Span]:
    """Give what a repair's parts cost, where somebody wrote it down as a plain amount."""
    written = AMOUNT.fullmatch(entry.price.strip())
    if written and planned > 0.0:
        amount = float(written[1].replace(",", "."))
        if 1 / FAR_OFF < amount / planned < FAR_OFF:
            path = ("faults", entry.fault, "repair", "price")
            yield Span((path,), math.log(amount / planned))


def by_place(found: Iterable[Span]) -> dict[Path, list[float]]:
    """Sort the ratios of spans by the place that they tell of; one with a set-up, of both [-]."""
    ratios: dict[Path, list[float]] = {}
    for span in found:
        for path in span.paths:
            ratios.setdefault(path, []).append(span.ratio)
    return ratios


def learned_times(
    network: dict[str, Any], ratios: Mapping[Path, list[float]], weight: float
) -> dict[Path, LearnedTime]:
    """Estimate minutes and prices.

    Parameters
    ----------
    network : dict
        The network as plain data [-]
    ratios : mapping
        What was measured, by place in the source: logarithms of parts of the author's value [-]
    weight : float
        For how many spans the author's value counts [-]

    Returns
    -------
    times : dict
        By place in the source.

    Notes
    -----
    Log-normal, with a normal-inverse-gamma prior around the author's mean; the mean of the times
    and its interval by Cox's method (Land, 1972; from memory).
    """
    author = dict(_author_minutes(network))
    return {
        path: _learned(path, author[path], logs, weight)
        for path, logs in ratios.items()
        if path in author
    }


def _author_minutes(network: dict[str, Any]) -> Iterator[tuple[Path, float]]:
    for test in network["tests"]:
        yield ("tests", test["id"], "minutes"), test["minutes"]
    for name, setup in network["setups"].items():
        yield ("setups", name, "minutes"), setup["minutes"]
    for fault in network["faults"]:
        yield ("faults", fault["id"], "repair", "minutes"), fault["repair"]["minutes"]
        yield ("faults", fault["id"], "repair", "price"), fault["repair"]["price"]
    yield ("recheck",), network["recheck_minutes"]


def _learned(path: Path, minutes: float, logs: list[float], weight: float) -> LearnedTime:
    count = len(logs)
    center = -(SPREAD**2) / 2  # so that the mean of the prior is the author's
    total = weight + count
    mean = (weight * center + sum(logs)) / total
    sample = sum(logs) / count
    squares = sum((log - sample) ** 2 for log in logs)
    squares += weight * count / total * (sample - center) ** 2 + weight * SPREAD**2
    variance = squares / total
    middle = mean + variance / 2
    deviation = math.sqrt(variance / total + variance**2 / (2 * max(total - 1, 1)))
    reach = float(stdtrit(max(total - 1, 1), (1 + LEVEL) / 2)) * deviation
    return LearnedTime(
        path,
        minutes,
        minutes * math.exp(middle),
        minutes * math.exp(middle - reach),
        minutes * math.exp(middle + reach),
        count,
    )
