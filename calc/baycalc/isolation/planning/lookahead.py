"""Looks ahead: what the job costs in all when this test or that repair comes first."""

from dataclasses import dataclass
from math import sumprod
from operator import mul

from baycalc.isolation.planning.problem import Problem, Step
from baycalc.isolation.planning.repair_order import Cost, costs_by_set, order_of, repair_only

NOTHING_LEFT = 1e-12
"""Weight below which no car is left."""

ORDERS_TRIED = 4
"""How many of the likeliest faults are tried as the first to repair in a rough ranking."""

SMALL_SEARCH = 250
"""Open tests times fault sets up to which three moves in a row are looked at."""

LARGE_SEARCH = 1500
"""Open tests times fault sets from which fewer branches are followed."""


@dataclass(frozen=True)
class Look:
    """How far to look.

    Parameters
    ----------
    depth : int
        Moves in a row [-].
    tests, repairs : int
        How many of each are looked past as the first move, after a first ranking [-].
    rare : float
        Share of cars below which a branch is closed by repairs alone [-].
    sharp : int
        How many tests are valued in full at each later move, after a rough ranking [-].
    """

    depth: int
    tests: int
    repairs: int
    rare: float
    sharp: int


def look_for(problem: Problem) -> Look:
    """Choose how far to look, so that an answer takes about the same time for any procedure."""
    size = problem.open.bit_count() * len(problem.weights)
    if size <= SMALL_SEARCH:
        return Look(3, 6, 2, 0.01, 3)
    return Look(2, 4, 1, 0.05 if size <= LARGE_SEARCH else 0.08, 2)


@dataclass(frozen=True)
class Move:
    """One thing to do now, and what the job costs from here when it is done first.

    Parameters
    ----------
    kind : str
        "test", "repair" or "recheck" [-].
    number : int
        Number of the test or of the fault [-].
    cost, minutes : float
        Expected from here to a proven repair [money], [min].
    step : Step, optional
        The test that the move serves, with what must be done before it [-].
    followed : bool
        Whether the cost is that of a plan followed to its end [-].
    """

    kind: str
    number: int
    cost: float
    minutes: float
    step: Step | None = None
    followed: bool = False


@dataclass(frozen=True)
class State:
    """A point in the look-ahead: faults repaired on the way, set-up, tests open, tests done."""

    gone: int
    setup: str | None
    open: int
    met: int

    def tested(self, step: Step) -> "State":
        """Give the point after a test and what had to come before it."""
        done = sum(1 << test for test in step.tests)
        return State(self.gone, step.setup, self.open & ~done, self.met | done)

    def repaired(self, fault: int) -> "State":
        """Give the point after a repair."""
        return State(self.gone | 1 << fault, None, self.open, self.met)

    def proven(self) -> "State":
        """Give the point after a recheck."""
        return State(self.gone, None, self.open, self.met)


class Search:
    """The look-ahead over one problem.

    Parameters
    ----------
    problem : Problem
        The decision [-].
    look : Look
        How far to look [-].

    Notes
    -----
    Costs inside are expected costs times the sum of the weights, so that branches add up.
    A recheck is taken to show every fault left.
    """

    def __init__(self, problem: Problem, look: Look) -> None:
        self.problem = problem
        self.look = look

    @property
    def start(self) -> State:
        """The point where the job stands."""
        problem = self.problem
        return State(0, problem.job.setup, problem.open, problem.met)

    def moves(self) -> list[Move]:
        """List what can be done now, by what the job then costs in all; cheapest first.

        Notes
        -----
        Between a repair and its proof no test is offered here: what may have changed by the
        repair is asked for by the closing rule, and the proof is due anyway.
        """
        problem, weights, depth = self.problem, self.problem.weights, self.look.depth
        moves = self.repairs(self.start, weights, depth)
        if not problem.unproven:
            moves += self._all_tests(weights, depth)
        if problem.job.rechecked != "cured" and self._in_order(self.start, weights) > 0.0:
            moves.append(Move("recheck", 0, *self._past_recheck(self.start, weights, depth)))
        moves.sort(key=rank)
        return moves

    def _all_tests(self, weights: list[float], depth: int) -> list[Move]:
        """Value every test as if only repairs came after it, then the best of them further on."""
        steps = self._steps(self.start)
        ranked = [(self._past_test(self.start, weights, step, 0), step) for step in steps]
        ranked.sort(key=lambda pair: pair[0].cost)
        further = self.look.tests if depth > 1 else 0
        return [
            self._past_test(self.start, weights, step, depth - 1) if place < further else move
            for place, (move, step) in enumerate(ranked)
        ]

    def tests(self, state: State, weights: list[float], depth: int, ceiling: float) -> list[Move]:
        """Value the few tests that look best at a rough glance, where any can pay.

        Parameters
        ----------
        state : State
            The point in the look-ahead [-].
        weights : list of float
            Weight of each set [-].
        depth : int
            Moves to look at, the test included [-].
        ceiling : float
            Cost without any test [money].

        Returns
        -------
        moves : list of Move
            In no order; empty where no test can pay [-].
        """
        steps = self._roughly_best(state, weights, ceiling)[: self.look.sharp]
        return [self._past_test(state, weights, step, depth - 1) for step in steps]

    def _steps(self, state: State) -> list[Step]:
        steps = (
            self.problem.step(number, state.setup, state.met)
            for number in range(len(self.problem.tests))
            if state.open >> number & 1
        )
        return [step for step in steps if step is not None]

    def _roughly_best(self, state: State, weights: list[float], ceiling: float) -> list[Step]:
        """Rank the tests that can pay, by a few orders of repair instead of the best one."""
        whole = sum(weights)
        view = self.problem.view(state.gone)
        room = ceiling - sumprod(weights, view.floor)
        columns = [
            list(map(mul, weights, costs_by_set(view, order)))
            for order in _other_orders(order_of(view, weights))
        ]
        ranked = []
        for step in self._steps(state):
            cost = step.cost * whole
            if cost < room:
                for outcome in view.outcomes(step.tests):
                    cost += min([sumprod(column, outcome) for column in columns])
                ranked.append((cost, step.tests, step))
        ranked.sort()
        return [step for _, _, step in ranked]

    def repairs(self, state: State, weights: list[float], depth: int) -> list[Move]:
        """Value the repairs that promise most for what they cost."""
        order = order_of(self.problem.view(state.gone), weights)
        return [
            self._past_repair(state, weights, fault, depth - 1)
            for fault in order[: self.look.repairs]
        ]

    def left_after_recheck(self, state: State, weights: list[float]) -> list[float]:
        """Give the weights of the cars that a recheck does not find cured."""
        left = list(weights)
        for row in self.problem.view(state.gone).empty:
            left[row] = 0.0
        return left

    def _in_order(self, state: State, weights: list[float]) -> float:
        return sum(weights[row] for row in self.problem.view(state.gone).empty)

    def _value(self, state: State, weights: list[float], depth: int) -> Cost:
        best = repair_only(self.problem.view(state.gone), weights)
        if depth == 0 or best[0] <= NOTHING_LEFT:
            return best
        moves = self.tests(state, weights, depth, best[0])
        if depth > 1:
            moves += self.repairs(state, weights, depth)
        for move in moves:
            if move.cost < best[0]:
                best = move.cost, move.minutes
        return best

    def _past_test(self, state: State, weights: list[float], step: Step, depth: int) -> Move:
        whole = sum(weights)
        cost, minutes = step.cost * whole, step.minutes * whole
        after = state.tested(step)
        for outcome in self.problem.view(state.gone).outcomes(step.tests):
            more, longer = self._value(after, list(map(mul, weights, outcome)), depth)
            cost += more
            minutes += longer
        return Move("test", step.first, cost, minutes, step)

    def _past_repair(self, state: State, weights: list[float], fault: int, depth: int) -> Move:
        whole = sum(weights)
        after = state.repaired(fault)
        best = repair_only(self.problem.view(after.gone), weights)
        if depth > 0:
            best = min(best, self._past_recheck(after, weights, depth))
        cost = self.problem.cost[fault] * whole + best[0]
        return Move("repair", fault, cost, self.problem.minutes[fault] * whole + best[1])

    def _past_recheck(self, state: State, weights: list[float], depth: int) -> Cost:
        whole = sum(weights)
        left = self.left_after_recheck(state, weights)
        cost, minutes = self._value(state.proven(), left, depth)
        proof = self.problem.recheck_cost * whole, self.problem.recheck_minutes * whole
        return proof[0] + cost, proof[1] + minutes


def _other_orders(order: list[int]) -> list[list[int]]:
    """Give an order of repairs, with its first one last, and with another one first."""
    orders = [order, order[1:] + order[:1]]
    for place in range(2, min(len(order), ORDERS_TRIED)):
        orders.append([order[place], *order[:place], *order[place + 1 :]])
    return orders


def rank(move: Move) -> tuple[float, str, int, int]:
    """Sort by cost; among equals a preparation is named with the test that it serves."""
    chain = len(move.step.tests) if move.step is not None else 0
    return round(move.cost, 6), move.kind, move.number, -chain
