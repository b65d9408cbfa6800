"""The decision as the planner sees it: the sets that matter, costs, and tests still open."""

from dataclasses import dataclass
from heapq import nlargest
from itertools import product
from math import sumprod
from operator import mul

from baycalc.isolation.inference.posterior import Beliefs
from baycalc.isolation.model.bayes_net import Key, Model
from baycalc.isolation.model.fault_model import Test
from baycalc.isolation.planning.job import Job

SETS_PLANNED = 48
"""Most sets of faults that the planner looks ahead with; the shares of suspects use all."""

TOGETHER_PLANNED = 12
"""Sets of several faults that are planned with at least, however many faults there are."""

NEGLIGIBLE = 1e-6
"""Part of the likeliest set's weight below which a set of several faults is not planned with."""

RESULTS_PLANNED = 4
"""Most observations whose results are told apart when the planner looks past a test."""

OUTCOMES_PLANNED = 5
"""Most outcomes of a test that the planner follows; the rarest ones are taken as one."""

REALLY_THERE = 0.05
"""Share of belief that a repair met its fault, from which a test is worth repeating after it."""


FREE = 1e-6
"""Cost that stands in for none at all where chance is divided by cost."""


@dataclass(frozen=True)
class Step:
    """A test, with whatever must be done before it, as one move of the planner."""

    tests: tuple[int, ...]
    cost: float
    minutes: float
    setup: str | None

    @property
    def first(self) -> int:
        """The test to be done now."""
        return self.tests[0]


class View:
    """What the planner needs of the fault sets once some faults are repaired.

    Notes
    -----
    The first rows are the faults alone, in their order, so that a list of weights begins with
    the chance of each; the other rows are sorted by how many faults are left in them.
    """

    def __init__(self, problem: "Problem", gone: int) -> None:
        model = problem.model
        self.problem = problem
        self.places = [model.sets.index[mask & ~gone] for mask in problem.masks]
        members = [model.sets.members[place] for place in self.places]
        rows = list(enumerate(members))
        more = rows[problem.count :]
        self.empty = [row for row, held in rows if not held]
        self.ones = [(row, held[0]) for row, held in more if len(held) == 1]
        self.twos = [(row, held[0], held[1]) for row, held in more if len(held) == 2]
        self.threes = [(row, held[0], held[1], held[2]) for row, held in more if len(held) == 3]
        self.gone = [fault for fault in range(problem.count) if gone >> fault & 1]
        self.floor = [problem.recheck_cost + sum(problem.cost[f] for f in held) for held in members]
        self._outcomes: dict[tuple[int, ...], list[list[float]]] = {}

    def outcomes(self, tests: tuple[int, ...]) -> list[list[float]]:
        """Give, for each way that some tests can turn out, its chance in each set."""
        if tests not in self._outcomes:
            keys = [key for test in reversed(tests) for key in self.problem.watched[test]]
            self._outcomes[tests] = self._combine(keys)
        return self._outcomes[tests]

    def _combine(self, keys: list[Key]) -> list[list[float]]:
        """Multiply the results of the first few observations that tell anything here."""
        pairs = []
        for key in keys:
            whole = self.problem.model.normal(key)
            normal = [whole[place] for place in self.places]
            if max(normal) > min(normal):
                pairs.append(([1.0 - chance for chance in normal], normal))
        if not pairs:
            return [[1.0] * len(self.places)]
        outcomes = [_product(choice) for choice in product(*pairs[:RESULTS_PLANNED])]
        if len(outcomes) <= OUTCOMES_PLANNED:
            return outcomes
        weights = self.problem.weights
        outcomes.sort(key=lambda column: -sumprod(weights, column))
        rest = [sum(chances) for chances in zip(*outcomes[OUTCOMES_PLANNED - 1 :], strict=True)]
        return [*outcomes[: OUTCOMES_PLANNED - 1], rest]


def _product(columns: tuple[list[float], ...]) -> list[float]:
    product_of_all = columns[0]
    for column in columns[1:]:
        product_of_all = list(map(mul, product_of_all, column))
    return product_of_all


class Problem:
    """The decision that a job stands before.

    Parameters
    ----------
    known : Beliefs
        What is believed [-].
    job : Job
        Where the job stands [-].
    repaired : dict
        For each repair the share of belief that its fault was really there [-].
    """

    def __init__(self, known: Beliefs, job: Job, repaired: dict[str, float]) -> None:
        self.model: Model = known.belief.model
        self.job = job
        network = self.model.network
        self.tests = network.tests
        self.number = {test.id: place for place, test in enumerate(self.tests)}
        self.minutes = [repair.minutes for repair in self.model.repairs]
        self.cost = [r.minutes * network.rate + r.price for r in self.model.repairs]
        self.count = len(self.cost)
        self.recheck_minutes = network.recheck_minutes
        self.recheck_cost = network.recheck_minutes * network.rate
        self.worth = [1.0 / max(cost + self.recheck_cost, FREE) for cost in self.cost]
        self.unproven = bool(job.repaired) and job.rechecked is None
        self._choose_sets(known.belief.weights)
        self._find_open(repaired)
        self._views: dict[int, View] = {}
        self._steps: dict[tuple[int, str | None, int], Step | None] = {}

    def view(self, gone: int) -> View:
        """Give the sets with some faults repaired."""
        if gone not in self._views:
            self._views[gone] = View(self, gone)
        return self._views[gone]

    def step(self, test: int, setup: str | None, met: int) -> Step | None:
        """Give a test with its cost; None where something before it cannot be done."""
        key = (test, setup, met)
        if key not in self._steps:
            self._steps[key] = self._make_step(test, setup, met)
        return self._steps[key]

    def _choose_sets(self, weights: list[float]) -> None:
        """Take every fault alone, and of the other sets the likeliest."""
        masks = self.model.sets.masks
        alone = [self.model.sets.index[1 << fault] for fault in range(self.count)]
        least = NEGLIGIBLE * max(weights)
        others = [place for place, weight in enumerate(weights) if weight > least]
        others = [place for place in others if masks[place].bit_count() != 1]
        room = max(SETS_PLANNED - self.count, TOGETHER_PLANNED)
        others = nlargest(room, others, key=weights.__getitem__)
        places = alone + others
        whole = sum(weights[place] for place in places)
        self.masks = [masks[place] for place in places]
        self.weights = [weights[place] / whole for place in places]

    def _find_open(self, repaired: dict[str, float]) -> None:
        """Note which tests can still be done, what they would add, and which were done."""
        changes = [
            {self.model.number[name], *self.model.later.get(self.model.number[name], {})}
            if repaired.get(name, 0.0) >= REALLY_THERE
            else set()
            for name in self.job.repaired
        ]
        self.watched: list[list[Key]] = []
        self.begun = {place for place, test in enumerate(self.tests) if self.job.begun(test.id)}
        self.open = 0
        self.met = 0
        for place, test in enumerate(self.tests):
            self.watched.append(self._watched(test, changes))
            if test.id in self.job.done:
                self.met |= 1 << place
            if self.watched[-1] or self._can_prepare(test):
                self.open |= 1 << place

    def _watched(self, test: Test, changes: list[set[int]]) -> list[Key]:
        keys: list[Key] = [("test", test.id, item.id) for item in test.observations]
        shown = {fault for key in keys for fault in self.model.shows(key)}
        now = len(self.job.repaired)
        entered = {
            key: entry
            for key, (when, entry) in self.job.results.items()
            if key in keys and not any(shown & change for change in changes[when:now])
        }
        if entered and not any(entry.done for entry in entered.values()):
            return []
        return [key for key in keys if key not in entered]

    def _can_prepare(self, test: Test) -> bool:
        return not test.observations and ("test", test.id) not in self.job.results

    def _make_step(self, test: int, setup: str | None, met: int) -> Step | None:
        chain = self._chain(test, met, ())
        if chain is None:
            return None
        minutes = 0.0
        for place in chain:
            one = self.tests[place]
            if place in self.begun:
                continue
            minutes += one.minutes
            if one.setup is not None and one.setup != setup:
                minutes += self.model.network.setups[one.setup]
                setup = one.setup
        return Step(chain, minutes * self.model.network.rate, minutes, setup)

    def _chain(self, test: int, met: int, before: tuple[int, ...]) -> tuple[int, ...] | None:
        """Put what must be done first before a test, in an order that holds."""
        if not self.open >> test & 1:
            return None
        chain = before
        for name in self.tests[test].after:
            first = self.number[name]
            if first in chain or met >> first & 1:
                continue
            longer = self._chain(first, met, chain)
            if longer is None:
                return None
            chain = longer
        return (*chain, test)
