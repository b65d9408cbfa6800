"""Looks ahead: what the job costs in all when this test or that repair comes first."""

from dataclasses import dataclass
from math import sumprod
from operator import mul

from baycalc.isolation.planning.point import Point, start_of
from baycalc.isolation.planning.problem import PlanningProblem
from baycalc.isolation.planning.repair_order import costs_by_set, order_of
from baycalc.isolation.planning.rules import closing_cost, looks_before_buying
from baycalc.isolation.planning.state import Cost
from baycalc.isolation.planning.steps import Step

NOTHING_LEFT = 1e-12
"""Weight below which no car is left [-]."""

IN_VAIN = 0.005
"""Share of cars in order up to which a proof is made in vain [-]."""

ORDERS_TRIED = 4
"""How many of the likeliest faults are tried as the first to repair in a rough ranking [-]."""

SMALL_SEARCH = 250
"""Open tests times fault sets up to which three moves in a row are looked at [-]."""

LARGE_SEARCH = 1500
"""Open tests times fault sets from which fewer branches are followed [-]."""


@dataclass(frozen=True)
class Horizon:
    """How far to look.

    Attributes
    ----------
    depth : int
        Moves in a row [-].
    tests, repairs : int
        Beam width: how many of each are looked past as the first move, after a first ranking [-].
    rare : float
        Share of cars below which a branch is closed by repairs alone [-].
    sharp : int
        How many tests are valued in full at each later move, after a rough ranking [-].
    follow : int
        How many of the best tests are followed to the end [-].
    looks : int
        How many looks before a purchase are counted in a row where planning ends [-].
    """

    depth: int
    tests: int
    repairs: int
    rare: float
    sharp: int
    follow: int = 0
    looks: int = 0


def horizon_for(problem: PlanningProblem) -> Horizon:
    """Choose how far to look, so that an answer takes about the same time for any procedure."""
    size = problem.open.bit_count() * len(problem.weights)
    if size <= SMALL_SEARCH:
        return Horizon(3, 6, 2, 0.01, 3, 5, 2)
    if size <= LARGE_SEARCH:
        return Horizon(2, 4, 1, 0.05, 2, 4, 1)
    return Horizon(2, 4, 1, 0.08, 2, 3)


@dataclass(frozen=True)
class Move:
    """One thing to do now, and what the job costs from here when it is done first.

    Attributes
    ----------
    kind : str
        "test", "repair" or "recheck".
    number : int
        Number of the test or of the fault; 0 for the proof [-].
    cost, minutes : float
        Expected from here to a proven repair [money], [min].
    step : Step, optional
        The test that the move serves, with what must be done before it.
    followed : bool
        Whether the cost is that of a plan followed to its end.
    """

    kind: str
    number: int
    cost: float
    minutes: float
    step: Step | None = None
    followed: bool = False


class Search:
    """The look-ahead over one problem.

    Parameters
    ----------
    problem : Problem
        The decision.
    horizon : Horizon
        How far to look.

    Notes
    -----
    Costs inside are expected costs times the sum of the weights, so that branches add up.
    A proof is taken to show every fault left.
    """

    def __init__(self, problem: PlanningProblem, horizon: Horizon) -> None:
        self.problem = problem
        self.horizon = horizon
        self.start = start_of(problem)

    def moves(self) -> list[Move]:
        """List what can be done now, by what the job then costs in all; cheapest first.

        Notes
        -----
        Between a repair and its proof no test is offered here: what may have changed by the
        repair is asked for by the closing rule, and the proof is due anyway.
        """
        problem, weights, depth = self.problem, self.problem.weights, self.horizon.depth
        moves = self.repairs(self.start, weights, depth, len(problem.actions))
        if not problem.unproven:
            moves += self._all_tests(weights, depth)
        if problem.job.proof != "cured" and self._in_order(self.start, weights) > IN_VAIN:
            moves.append(Move("recheck", 0, *self._past_recheck(self.start, weights, depth)))
        moves.sort(key=rank)
        return moves

    def _all_tests(self, weights: list[float], depth: int) -> list[Move]:
        """Value every test as if only repairs came after it, then the best of them further on."""
        steps = self._steps(self.start)
        ranked = [(self._past_test(self.start, weights, step, 0), step) for step in steps]
        ranked.sort(key=lambda pair: pair[0].cost)
        further = self.horizon.tests if depth > 1 else 0
        return [
            self._past_test(self.start, weights, step, depth - 1) if place < further else move
            for place, (move, step) in enumerate(ranked)
        ]

    def tests(self, state: Point, weights: list[float], depth: int, ceiling: float) -> list[Move]:
        """Value the few tests that look best at a rough glance, where any can pay.

        Parameters
        ----------
        state : Point
            The point in the look-ahead.
        weights : list of float
            Weight of each set [-].
        depth : int
            Moves to look at, the test included [-].
        ceiling : float
            Cost without any test [money].

        Returns
        -------
        moves : list of Move
            In no order; empty where no test can pay.
        """
        steps = self._roughly_best(state, weights, ceiling)[: self.horizon.sharp]
        return [self._past_test(state, weights, step, depth - 1) for step in steps]

    def _steps(self, state: Point) -> list[Step]:
        problem = self.problem
        steps = (
            problem.steps.to(number, state.stand, state.met, state.open)
            for number in range(len(problem.tests))
            if state.open >> number & 1
        )
        return [step for step in steps if step is not None]

    def _roughly_best(self, state: Point, weights: list[float], ceiling: float) -> list[Step]:
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
                    cost += min([sumprod(column, outcome.chances) for column in columns])
                ranked.append((cost, step.tests, step))
        ranked.sort()
        return [step for _, _, step in ranked]

    def repairs(self, state: Point, weights: list[float], depth: int, most: int) -> list[Move]:
        """Value the repairs that promise most for what they cost; the few best ones in depth."""
        order = [
            fault
            for fault in order_of(self.problem.view(state.gone), weights)
            if not self.horizon.looks
            or not looks_before_buying(self.problem, state, weights, fault)
        ][:most]
        few = self.horizon.repairs
        return [
            self._past_repair(state, weights, fault, depth - 1 if place < few else 0)
            for place, fault in enumerate(order)
        ]

    def left_after_recheck(self, state: Point, weights: list[float]) -> list[float]:
        """Give the weights of the cars that a proof does not find cured."""
        left = list(weights)
        for row in self.problem.view(state.gone).empty:
            left[row] = 0.0
        return left

    def _in_order(self, state: Point, weights: list[float]) -> float:
        return sum(weights[row] for row in self.problem.view(state.gone).empty)

    def _value(self, state: Point, weights: list[float], depth: int) -> Cost:
        best = closing_cost(self.problem, state, weights, self.horizon.looks)
        if depth == 0 or best.money <= NOTHING_LEFT:
            return best
        moves = self.tests(state, weights, depth, best.money)
        if depth > 1:
            moves += self.repairs(state, weights, depth, self.horizon.repairs)
        for move in moves:
            if move.cost < best.money:
                best = Cost(move.cost, move.minutes)
        return best

    def _past_test(self, state: Point, weights: list[float], step: Step, depth: int) -> Move:
        whole = sum(weights)
        cost, minutes = step.cost * whole, step.minutes * whole
        for outcome in self.problem.view(state.gone).outcomes(step.tests):
            after = state.tested(step, outcome)
            more = self._value(after, list(map(mul, weights, outcome.chances)), depth)
            cost += more.money
            minutes += more.minutes
        return Move("test", step.first, cost, minutes, step)

    def _past_repair(self, state: Point, weights: list[float], fault: int, depth: int) -> Move:
        whole = sum(weights)
        problem = self.problem
        after = state.repaired(problem.cured[fault])
        best = closing_cost(problem, after, weights, self.horizon.looks)
        if depth > 0:
            best = min(best, self._past_recheck(after, weights, depth))
        cost = problem.cost[fault] * whole + best.money
        return Move("repair", fault, cost, problem.minutes[fault] * whole + best.minutes)

    def _past_recheck(self, state: Point, weights: list[float], depth: int) -> Cost:
        whole = sum(weights)
        left = self.left_after_recheck(state, weights)
        more = self._value(state.proven(), left, depth)
        proof = self.problem.recheck_cost * whole, self.problem.recheck_minutes * whole
        return Cost(proof[0] + more.money, proof[1] + more.minutes)


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
