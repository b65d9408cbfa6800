"""What learned values do to a plan: its first steps, and what a mean job costs."""

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from baybook.book.sources.read import Path
from baybook.learning.author_values import with_values
from baycalc.isolation.inference.evidence import ABNORMAL, Event
from baycalc.isolation.model.bayes_net import Key, Model
from baycalc.isolation.model.read_network import from_data
from baycalc.isolation.planning.case import open_case
from baycalc.isolation.planning.decide import decide
from baycalc.isolation.planning.policies import by_plan
from baycalc.isolation.report.simulation import Workshop, summed
from baycalc.text import duration, money

DEAREST = 0.05
"""Part of the simulated cars that is left out: a few that go in circles outweigh all others [-];
common practice, no source."""

SEED = 20
"""Seed of the simulated cars [-]."""


@dataclass(frozen=True)
class PlanChange:
    """What the values change for one network.

    Attributes
    ----------
    begins : tuple
        For each start that changes: the code or "", the first step before, and the one now.
    cars : int
        How many simulated cars of the learned values both plans were tried on [-].
    minutes, money : tuple of float
        Mean of a job by the author's plan and by the learned one [min], [money].
    currency : str
        The sign before money.
    """

    begins: tuple[tuple[str, str, str], ...]
    cars: int
    minutes: tuple[float, float]
    money: tuple[float, float]
    currency: str

    def lines(self) -> Iterator[str]:
        """Tell it."""
        for code, before, now in self.begins:
            yield f"  {code or 'no code'}: begins with {now}, before with {before}"
        if not self.begins:
            yield "  the plan begins as before, without a code and with each"
        if self.cars:
            before, now = (duration(minutes) for minutes in self.minutes)
            dear, cheap = (money(amount, self.currency) for amount in self.money)
            yield (
                f"  a mean job of {self.cars} simulated cars but the dearest twentieth: "
                f"{before} and {dear} by the author's plan, {now} and {cheap} by the new one"
            )


def plan_change(network: dict[str, Any], values: Mapping[Path, float], cars: int) -> PlanChange:
    """Work out what values change.

    Parameters
    ----------
    network : dict
        The network as plain data, with the author's values [-]
    values : mapping
        The learned values, by place [-]
    cars : int
        Simulated cars for each plan; none where 0 [-]
    """
    author = Model(from_data(network))
    learned = Model(from_data(with_values(network, values)))
    begins = []
    for code in ("", *network["codes"]):
        before, now = _first_step(author, code), _first_step(learned, code)
        if before != now:
            begins.append((code, before, now))
    spent = [(0.0, 0.0), (0.0, 0.0)]
    if cars:
        for place, believed in enumerate((author, learned)):
            workshop = Workshop(learned, by_plan, SEED, believed)
            worked = [workshop.work(workshop.arrive()) for _ in range(cars)]
            worked.sort(key=lambda car: car.minutes * learned.network.rate + car.price)
            result = summed(workshop, worked[: math.ceil(cars * (1.0 - DEAREST))])
            spent[place] = (result.minutes, result.money)
    return PlanChange(
        tuple(begins),
        cars,
        (spent[0][0], spent[1][0]),
        (spent[0][1], spent[1][1]),
        network["currency"] or "",
    )


def _first_step(model: Model, code: str) -> str:
    events = [Event(Key("opening", step.id)) for step in model.network.opening]
    if code:
        events += [Event(Key("code", code), ABNORMAL, place=0), Event(Key("codes"), place=1)]
    events += [
        Event(Key("test", test.id, seen.id), (1.0,) * (1 + len(seen.bands)), done=False)
        for test in model.network.tests
        if test.opening
        for seen in test.observations
    ]
    action = decide(open_case(model, events)).action
    return f"{action.kind} {action.id}".strip()
