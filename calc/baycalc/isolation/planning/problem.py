"""The decision as the planner sees it: the sets that matter, costs, and tests still open."""

from collections.abc import Collection
from heapq import nlargest
from itertools import product
from math import sumprod
from operator import mul
from typing import NamedTuple

from baycalc.isolation.inference.evidence import Event
from baycalc.isolation.inference.posterior import Posterior
from baycalc.isolation.model.bayes_net import Key, Model
from baycalc.isolation.model.fault_model import OUTSIDE, Test
from baycalc.isolation.model.hypotheses import mask_of
from baycalc.isolation.planning.confirmation import confirmation_of, outcome
from baycalc.isolation.planning.state import Cost, JobState
from baycalc.isolation.planning.steps import Steps

SETS_PLANNED = 48
"""Most sets of faults that the planner looks ahead with; the shares of suspects use all [-]."""

TOGETHER_PLANNED = 12
"""Sets of several faults that are planned with at least, however many faults there are [-]."""

NEGLIGIBLE = 1e-6
"""Part of the likeliest set's weight below which a set of several faults is left out [-]."""

RESULTS_PLANNED = 4
"""Most observations whose results are told apart when the planner looks past a test [-]."""

OUTCOMES_PLANNED = 5
"""Most outcomes of a test that the planner follows; the rarest ones are taken as one [-]."""

REALLY_THERE = 0.05
"""Share of belief that a repair met its fault from which tests are repeated after it [-]."""

FREE = 1e-6
"""Cost that stands in for none at all where chance is divided by cost [money]."""


class Outcome(NamedTuple):
    """One way that some tests can turn out.

    Attributes
    ----------
    chances : list of float
        Its chance in each set [-].
    stops, looked, cleared, shown : int
        Masks of the tests it forbids, of the faults that it has looked for, clears and shows [-].
    """

    chances: list[float]
    stops: int = 0
    looked: int = 0
    cleared: int = 0
    shown: int = 0

    def joined(self, other: "Outcome") -> "Outcome":
        """Give this outcome together with another one."""
        chances = list(map(mul, self.chances, other.chances))
        return Outcome(chances, *(a | b for a, b in zip(self[1:], other[1:], strict=True)))


class View:
    """What the planner needs of the fault sets once some faults are repaired.

    Notes
    -----
    The first rows are the faults alone, in their order, so that a list of weights begins with
    the chance of each; the other rows are sorted by how many faults are left in them.
    """

    def __init__(self, problem: "PlanningProblem", gone: int) -> None:
        model = problem.model
        self.problem = problem
        self.cleared = gone
        self.places = [model.sets.index[mask & ~gone] for mask in problem.masks]
        members = [model.sets.members[place] for place in self.places]
        rows = list(enumerate(members))
        more = rows[problem.count :]
        self.empty = [row for row, held in rows if not held]
        self.ones = [(row, held[0]) for row, held in more if len(held) == 1]
        self.twos = [(row, held[0], held[1]) for row, held in more if len(held) == 2]
        self.threes = [(row, held[0], held[1], held[2]) for row, held in more if len(held) == 3]
        self.gone = [fault for fault in range(problem.count) if gone >> fault & 1]
        self.left = [fault for fault in range(problem.count) if not gone >> fault & 1]
        self.floor = [problem.recheck_cost + problem.repair_cost(held) for held in members]
        self._outcomes: dict[tuple[int, ...], list[Outcome]] = {}
        self._normal: dict[Key, list[float]] = {}
        self._without: dict[int, list[float]] = {}

    def normal(self, key: Key) -> list[float]:
        """Give the chance in each set that an observation is normal."""
        if key not in self._normal:
            column = self.problem.columns(key)[0]
            self._normal[key] = [column[place] for place in self.places]
        return self._normal[key]

    def without(self, fault: int) -> list[float]:
        """Give 1 for each set as it was that does not hold a fault, and 0 for the others."""
        if fault not in self._without:
            masks = self.problem.masks
            self._without[fault] = [float(not mask >> fault & 1) for mask in masks]
        return self._without[fault]

    def outcomes(self, tests: tuple[int, ...]) -> list[Outcome]:
        """Give the ways that some tests can turn out."""
        if tests not in self._outcomes:
            keys = [key for test in reversed(tests) for key in self.problem.watched[test]]
            self._outcomes[tests] = self._combine(keys)
        return self._outcomes[tests]

    def _combine(self, keys: list[Key]) -> list[Outcome]:
        """Multiply the results of the first few observations that tell anything here."""
        choices = []
        for key in keys:
            ways = self._ways(key)
            if max(ways[0].chances) > min(ways[0].chances):
                choices.append(ways)
        if not choices:
            return [Outcome([1.0] * len(self.places))]
        outcomes = [_joined(choice) for choice in product(*choices[:RESULTS_PLANNED])]
        if len(outcomes) <= OUTCOMES_PLANNED:
            return outcomes
        weights = self.problem.weights
        outcomes.sort(key=lambda outcome: -sumprod(weights, outcome.chances))
        rare = outcomes[OUTCOMES_PLANNED - 1 :]
        rest = [sum(chances) for chances in zip(*(way.chances for way in rare), strict=True)]
        return [*outcomes[: OUTCOMES_PLANNED - 1], Outcome(rest)]

    def _ways(self, key: Key) -> list[Outcome]:
        rules = self.problem.rules
        columns = [[whole[place] for place in self.places] for whole in self.problem.columns(key)]
        ways = [Outcome(columns[0], 0, rules.settles[key], rules.clears[key])]
        for column, shown, stops in zip(
            columns[1:], rules.shown[key], rules.stops[key], strict=True
        ):
            ways.append(Outcome(column, stops, shown, 0, shown))
        return ways


def _joined(choice: tuple[Outcome, ...]) -> Outcome:
    whole = choice[0]
    for one in choice[1:]:
        whole = whole.joined(one)
    return whole


class PlanningProblem:
    """The decision that a job stands before.

    Parameters
    ----------
    known : Posterior
        What is believed.
    job : JobState
        Where the job stands.
    repaired : dict
        For each repair the share of belief that its fault was really there [-].

    Attributes
    ----------
    actions : list of int
        One fault for each repair that differs from the others.
    cures, cured : list
        For each fault the faults that its repair clears, and their mask.
    outside : bool
        Whether the cause may lie outside; else it must be one of the faults, cleared or not.
    actions_of_one, actions_of_more : list
        Those that clear one fault, and the others with what they clear.
    rows_with : list of list of int
        For each fault the sets that hold it, in their order.
    looks : list
        For each fault the observations still open that look for it, with their tests.
    looked, cleared : int
        Masks of the faults that a test has looked for, and of those that one has cleared.
    closed : dict
        Costs of going on without planning that are worked out already, by point and weights.
    """

    def __init__(self, known: Posterior, job: JobState, repaired: dict[str, float]) -> None:
        self.model: Model = known.belief.model
        self.job = job
        self.rules = confirmation_of(self.model)
        network = self.model.network
        self.tests = network.tests
        self.number = {test.id: place for place, test in enumerate(self.tests)}
        self.minutes = [repair.minutes for repair in self.model.repairs]
        self.price = [repair.price for repair in self.model.repairs]
        self.cost = [r.minutes * network.rate + r.price for r in self.model.repairs]
        self.count = len(self.cost)
        self.outside = OUTSIDE in self.model.number
        self.cures = [sorted(cures) for cures in self.model.cures]
        self.cured = [mask_of(cures) for cures in self.model.cures]
        kinds: dict[tuple[int, float, float], int] = {}
        for fault in range(self.count):
            kind = self.cured[fault], self.minutes[fault], self.price[fault]
            kinds.setdefault(kind, fault)
        self.actions = list(kinds.values())
        self.actions_of_one = [fault for fault in self.actions if self.cures[fault] == [fault]]
        self.actions_of_more = [
            (fault, self.cures[fault]) for fault in self.actions if self.cures[fault] != [fault]
        ]
        self.alone = all(len(cures) == 1 for cures in self.cures)
        self.recheck_minutes = network.recheck_minutes
        self.recheck_cost = network.recheck_minutes * network.rate
        self.worth = [1.0 / max(cost + self.recheck_cost, FREE) for cost in self.cost]
        self.unproven = bool(job.repaired) and not job.proof
        self._choose_sets(known.belief.weights)
        self._find_open(repaired)
        begun = {place for place, test in enumerate(self.tests) if self.job.begun(test.id)}
        self.steps = Steps(network, begun, self.open)
        self._views: dict[int, View] = {}
        self.closed: dict[tuple[object, ...], Cost] = {}

    def columns(self, key: Key) -> tuple[list[float], ...]:
        """Give the chance of each outcome of an observation in each set."""
        return self.model.columns(key)

    def view(self, gone: int) -> View:
        """Give the sets with some faults repaired."""
        if gone not in self._views:
            self._views[gone] = View(self, gone)
        return self._views[gone]

    def repair_cost(self, faults: tuple[int, ...]) -> float:
        """Cost of repairing some faults, one repair for all that it clears [money]."""
        cost, left = 0.0, mask_of(faults)
        for fault in faults:
            if left >> fault & 1:
                left &= ~self.cured[fault]
                cost += self.cost[fault]
        return cost

    def _choose_sets(self, weights: list[float]) -> None:
        """Take every fault alone, and of the other sets the likeliest.

        A cause outside for which one has looked in vain is out of reach and not planned with.
        """
        masks = self.model.sets.masks
        if self.job.looked_outside:
            reach = ~(1 << self.model.number[OUTSIDE])
            masks = [mask & reach for mask in masks]
            beyond = self.model.sets.masks
            weights = [
                0.0 if was and not mask else weight
                for weight, mask, was in zip(weights, masks, beyond, strict=True)
            ]
        alone = [self.model.sets.index[1 << fault] for fault in range(self.count)]
        least = NEGLIGIBLE * max(weights)
        others = [place for place, weight in enumerate(weights) if weight > least]
        others = [place for place in others if masks[place].bit_count() != 1]
        room = max(SETS_PLANNED - self.count, TOGETHER_PLANNED)
        others = nlargest(room, others, key=weights.__getitem__)
        places = alone + others
        whole = sum(weights[place] for place in places)
        self.masks = [masks[place] for place in places]
        self.weights = [weights[place] / whole for place in places] if whole > 0.0 else []
        self.rows_with = [
            [row for row, mask in enumerate(self.masks) if mask >> fault & 1]
            for fault in range(self.count)
        ]

    def _find_open(self, repaired: dict[str, float]) -> None:
        """Note which tests can still be done, what they would add, and what results have told."""
        certain = [repaired.get(name, 0.0) >= REALLY_THERE for name in self.job.repaired]
        changes = [
            self._changed(name) if there else set()
            for name, there in zip(self.job.repaired, certain, strict=True)
        ]
        results = {
            key: (when, entry) for key, (when, entry) in self.job.results.items() if key.observation
        }
        entered = [
            key
            for key, (when, _) in results.items()
            if not any(set(self.model.shows(key)) & change for change in changes[when:])
        ]
        self._read_results(results, changes)
        self.watched = [self._watched(test, entered) for test in self.tests]
        self.open = self.met = 0
        for place, test in enumerate(self.tests):
            if test.id in self.job.done:
                self.met |= 1 << place
            if self.watched[place] or self._can_prepare(test):
                self.open |= 1 << place
        self.open &= ~self._stopped(results)
        self.looks = [
            [
                (key, self.number[key.name])
                for key in self.rules.keys
                if self.rules.looks_for[key] >> fault & 1
                and key in self.watched[self.number[key.name]]
            ]
            for fault in range(self.count)
        ]

    def _read_results(self, results: dict[Key, tuple[int, Event]], changes: list[set[int]]) -> None:
        """Note what results have looked for and cleared.

        A fault that may have come since by a repair is neither looked for nor cleared.
        """
        self.looked, self.cleared = self.rules.marks(entry for _, entry in results.values())
        for key, (when, entry) in results.items():
            since = mask_of(set().union(*changes[when:]))
            if since & self.rules.settles[key] and outcome(entry) == 0:
                self.looked &= ~(since & self.rules.settles[key])
                self.cleared &= ~since

    def _stopped(self, results: dict[Key, tuple[int, Event]]) -> int:
        """Give the tests that an abnormal result forbids, until a repair of what it shows."""
        stopped = 0
        for key, (when, entry) in results.items():
            place = outcome(entry)
            if not place or not self.rules.stops[key][place - 1]:
                continue
            shown = mask_of(self.model.shows(key))
            repaired = (self.model.number[name] for name in self.job.repaired[when:])
            if not any(self.cured[fault] & shown for fault in repaired):
                stopped |= self.rules.stops[key][place - 1]
        return stopped

    def _changed(self, name: str) -> set[int]:
        """Give the faults of which a repair may have changed what tests show."""
        fault = self.model.number[name]
        cures = self.model.cures[fault]
        later = [self.model.later.get(cause, {}) for cause in cures]
        return {*cures, *(child for row in later for child, chance in row.items() if chance)}

    def _watched(self, test: Test, entered: Collection[Key]) -> list[Key]:
        keys = [Key("test", test.id, item.id) for item in test.observations]
        return [key for key in keys if key not in entered]

    def _can_prepare(self, test: Test) -> bool:
        return not test.observations and Key("test", test.id) not in self.job.results
