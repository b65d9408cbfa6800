"""Everything known of one job at one moment, worked out once and shared."""

from dataclasses import dataclass

from baycalc.isolation.inference.evidence import read_history
from baycalc.isolation.inference.posterior import Beliefs, Suspects, suspects_of, weigh
from baycalc.isolation.json_reader import Json
from baycalc.isolation.model.bayes_net import Model
from baycalc.isolation.planning.job import Job, job_of
from baycalc.isolation.planning.problem import Problem


@dataclass(frozen=True)
class Case:
    """A job at one moment: its history, what is believed, and what can be done.

    Parameters
    ----------
    model : Model
        The model of the procedure [-].
    known : Beliefs
        The evidence and the belief [-].
    suspects : Suspects
        The belief in shares [-].
    job : Job
        Work done so far [-].
    problem : Problem
        What the planner sees [-].
    """

    model: Model
    known: Beliefs
    suspects: Suspects
    job: Job
    problem: Problem


def open_case(model: Model, history: list[Json]) -> Case:
    """Work out where a job stands.

    Parameters
    ----------
    model : Model
        The model of the procedure [-].
    history : list of dict
        The job so far [-].

    Returns
    -------
    case : Case
        The job at this moment [-].

    Raises
    ------
    ValueError
        Where the history cannot be read.
    """
    entries = read_history(model, history)
    known = weigh(model, entries)
    suspects = suspects_of(known)
    job = job_of(model, entries)
    return Case(model, known, suspects, job, Problem(known, job, suspects.repaired))
