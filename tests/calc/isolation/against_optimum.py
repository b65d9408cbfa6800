"""What the planner's plans cost beside the best that can be done, on small random procedures."""

from collections.abc import Iterable
from random import Random

from tests.calc.isolation.exhaustive import optimum
from tests.calc.isolation.jobs import case_of
from tests.calc.isolation.networks import Json, random_procedure, result

from baycalc.isolation.model.bayes_net import Key, Model
from baycalc.isolation.model.read_network import from_data
from baycalc.isolation.planning.case import Case
from baycalc.isolation.planning.decide import Action, decide
from baycalc.isolation.report.plan_tree import guess_cost

PROCEDURES = 120
SIZES = ((5, 6), (6, 7))
"""Faults and tests of every other procedure."""
ALONE = 1e-9
"""`base` so small that a second fault hardly counts, as exhaustive search has one."""


def ratios(seeds: Iterable[int]) -> tuple[list[float], list[float]]:
    """Cost of the plan, and of fitting parts by guess, over that of the optimum, for each seed.

    Neither side buys a part that no test has looked for.
    """
    plan, guess = [], []
    for seed in seeds:
        data = random_procedure(Random(seed), *SIZES[seed % 2], ordered=True, base=ALONE)
        model = Model(from_data(data))
        best = optimum(data)
        plan.append(_cost_of_plan(model, []) / best)
        guess.append(guess_cost(model, []).money / best)
    return plan, guess


def _cost_of_plan(model: Model, history: list[Json]) -> float:
    """Expected cost when every next action is followed to the end, every result weighed."""
    case = case_of(model, history)
    action = decide(case).action
    ways = _outcomes(case, action)
    cost = _spent(case, history, ways[0][0])
    for event, chance in ways:
        if chance > ALONE:
            cost += chance * _cost_of_plan(model, [*history, event])
    return cost


def _outcomes(case: Case, action: Action) -> list[tuple[Json, float]]:
    if action.kind == "repair":
        return [({"repair": action.id}, 1.0)]
    if action.kind == "recheck":
        return [({"recheck": "not cured"}, 1.0 - case.suspects.clear)]
    normal = case.model.columns(Key("test", action.id, "seen"))[0]
    passes = sum(w * n for w, n in zip(case.known.belief.weights, normal, strict=True))
    return [(result(action.id, True), 1.0 - passes), (result(action.id, False), passes)]


def _spent(case: Case, history: list[Json], event: Json) -> float:
    return case_of(case.model, [*history, event]).job.money - case.job.money
