"""A point of the plan: what is repaired, how the car stands, what tests have told on the way."""

from typing import NamedTuple

from baycalc.isolation.planning.problem import Outcome, PlanningProblem
from baycalc.isolation.planning.state import AS_IT_CAME, Stand
from baycalc.isolation.planning.steps import Step


class Point(NamedTuple):
    """A point in the look-ahead.

    Attributes
    ----------
    gone : int
        Mask of the faults repaired on the way [-].
    stand : Stand
        How the car stands.
    open, met : int
        Masks of the tests that may still be done, and of those done [-].
    looked, cleared : int
        Masks of the faults that a test has looked for, and of those that one has cleared [-].
    """

    gone: int
    stand: Stand
    open: int
    met: int
    looked: int
    cleared: int

    def tested(self, step: Step, outcome: Outcome) -> "Point":
        """Give the point after a test and what had to come before it."""
        return Point(
            self.gone,
            step.stand,
            self.open & ~step.mask & ~outcome.stops,
            self.met | step.mask,
            self.looked | outcome.looked,
            (self.cleared | outcome.cleared) & ~outcome.shown,
        )

    def repaired(self, cured: int) -> "Point":
        """Give the point after a repair that clears some faults."""
        return self._replace(gone=self.gone | cured, stand=AS_IT_CAME)

    def proven(self) -> "Point":
        """Give the point after a proof."""
        return self._replace(stand=AS_IT_CAME)


def start_of(problem: PlanningProblem) -> Point:
    """Give the point where the job stands."""
    stand = problem.job.stand
    return Point(0, stand, problem.open, problem.met, problem.looked, problem.cleared)
