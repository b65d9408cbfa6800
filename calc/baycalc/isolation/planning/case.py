"""Everything known of one job at one moment, worked out once and shared."""

from dataclasses import dataclass

from baycalc.isolation.inference.evidence import Event
from baycalc.isolation.inference.posterior import Posterior, Suspects, posterior, suspects_of
from baycalc.isolation.model.bayes_net import Model
from baycalc.isolation.planning.problem import PlanningProblem
from baycalc.isolation.planning.state import JobState, state_of


@dataclass(frozen=True)
class Case:
    """A job at one moment: its history, what is believed, and what can be done.

    Attributes
    ----------
    model : Model
        The model of the procedure.
    known : Posterior
        The evidence and the belief.
    suspects : Suspects
        The belief in shares.
    job : JobState
        Work done so far.
    problem : Problem
        What the planner sees.
    """

    model: Model
    known: Posterior
    suspects: Suspects
    job: JobState
    problem: PlanningProblem


def open_case(model: Model, events: list[Event]) -> Case:
    """Work out where a job stands.

    Parameters
    ----------
    model : Model
        The model of the procedure.
    events : list of Event
        The job so far.

    Returns
    -------
    case : Case
        The job at this moment.
    """
    known = posterior(model, events)
    suspects = suspects_of(known)
    job = state_of(model, events)
    return Case(model, known, suspects, job, PlanningProblem(known, job, suspects.repaired))
