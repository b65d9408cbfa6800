"""What simulated cars tell an author: what finding each fault costs, and tests that never pay."""

from dataclasses import dataclass

from baycalc.isolation.model.bayes_net import Model
from baycalc.isolation.planning.policies import by_quick_plan
from baycalc.isolation.report.simulation import WorkedCars, Workshop, summed

CARS_EACH = 10
"""Simulated cars for each fault alone."""

CARS_MIXED = 100
"""Simulated cars as they come."""


@dataclass(frozen=True)
class FaultFigures:
    """What the procedure does for one fault.

    Parameters
    ----------
    fault : str
        Its id [-].
    minutes, money : float
        Mean to find it, its own repair and proof left out [min], [money].
    right : float
        Share of simulated cars with this fault alone that were put right [-].
    """

    fault: str
    minutes: float
    money: float
    right: float


@dataclass(frozen=True)
class Figures:
    """What simulated cars tell of a procedure; what its tests show is in `separation`.

    Parameters
    ----------
    faults : tuple of FaultFigures
        Fault by fault, in the order of the network [-].
    never_pay : tuple of str
        Tests that no simulated job used [-].
    dearest : str
        The fault whose finding costs most [-].
    """

    faults: tuple[FaultFigures, ...]
    never_pay: tuple[str, ...]
    dearest: str


def figures(model: Model, seed: int = 0) -> Figures:
    """Work out the author's figures.

    Parameters
    ----------
    model : Model
        The model of the procedure [-].
    seed : int
        Seed of the simulated cars [-].

    Returns
    -------
    figures : Figures
        What finding each fault costs, and the tests that no job used [-].
    """
    workshop = Workshop(model, by_quick_plan, seed)
    faults = tuple(_fault_figures(workshop, fault) for fault in range(len(model.network.faults)))
    for _ in range(CARS_MIXED):
        workshop.work(workshop.arrive())
    return Figures(
        faults=faults,
        never_pay=tuple(test.id for test in model.network.tests if not workshop.done[test.id]),
        dearest=max(faults, key=lambda item: item.money).fault,
    )


def _fault_figures(workshop: Workshop, fault: int) -> FaultFigures:
    model = workshop.model
    outcome = _alone(workshop, fault)
    repair = model.repairs[fault]
    minutes = outcome.minutes - repair.minutes - model.network.recheck_minutes
    own = repair.price + (repair.minutes + model.network.recheck_minutes) * model.network.rate
    return FaultFigures(
        fault=model.ids[fault],
        minutes=minutes,
        money=outcome.money - own,
        right=outcome.right,
    )


def _alone(workshop: Workshop, fault: int) -> WorkedCars:
    present = workshop.model.sets.index[1 << fault]
    return summed(workshop, [workshop.work(workshop.arrive(present)) for _ in range(CARS_EACH)])
