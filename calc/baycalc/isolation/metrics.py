"""The author's figures: can the procedure find every fault, and what does it cost?"""

from dataclasses import dataclass

from baycalc.isolation.model import Model
from baycalc.isolation.policies import by_quick_plan
from baycalc.isolation.separation import Diagnosability, diagnosability
from baycalc.isolation.simulate import Bay, Outcome, summed

CARS_EACH = 30
"""Simulated cars for each fault alone."""

CARS_MIXED = 300
"""Simulated cars as they come."""


@dataclass(frozen=True)
class FaultFigures:
    """What the procedure does for one fault.

    Parameters
    ----------
    fault : str
        Its id [-].
    share : float
        Its share of all faults listed, by frequency [-].
    detection : float
        Chance that some test shows it, were all tests done and it alone present [-].
    group : tuple of str
        The faults that no test separates from it, itself included [-].
    minutes, money : float
        Mean to find it, its own repair and proof left out [min], [money].
    right : float
        Share of simulated cars with this fault alone that were put right [-].
    """

    fault: str
    share: float
    detection: float
    group: tuple[str, ...]
    minutes: float
    money: float
    right: float


@dataclass(frozen=True)
class Figures:
    """The author's figures of a procedure.

    Parameters
    ----------
    faults : tuple of FaultFigures
        Fault by fault, in the order of the network [-].
    unseen : tuple of str
        Faults that no test sees [-].
    groups : tuple
        Ambiguity groups of two and more [-].
    detected, detected_weighted : float
        Share of the faults detected; the same weighted by frequency [-].
    isolated, isolated_weighted : float
        Share of the detected faults that are separated from every other one; weighted [-].
    never_pay : tuple of str
        Tests that no simulated job used [-].
    dearest : str
        The fault whose finding costs most [-].

    References
    ----------
    .. [1] IEEE Std 1522, testability metrics: fraction of faults detected and isolated (terms
       from memory).
    """

    faults: tuple[FaultFigures, ...]
    unseen: tuple[str, ...]
    groups: tuple[tuple[str, ...], ...]
    detected: float
    detected_weighted: float
    isolated: float
    isolated_weighted: float
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
        What the tests can show, and what finding each fault costs [-].
    """
    bay = Bay(model, by_quick_plan, seed)
    shown = diagnosability(model)
    faults = tuple(_fault_figures(bay, fault, shown) for fault in range(len(shown.shares)))
    for _ in range(CARS_MIXED):
        bay.work(bay.arrive())
    return Figures(
        faults=faults,
        unseen=shown.unseen,
        groups=shown.groups,
        detected=shown.detected,
        detected_weighted=shown.detected_weighted,
        isolated=shown.isolated,
        isolated_weighted=shown.isolated_weighted,
        never_pay=tuple(test.id for test in model.network.tests if not bay.done[test.id]),
        dearest=max(faults, key=lambda item: item.money).fault,
    )


def _fault_figures(bay: Bay, fault: int, shown: Diagnosability) -> FaultFigures:
    model = bay.model
    outcome = _alone(bay, fault)
    repair = model.repairs[fault]
    minutes = outcome.minutes - repair.minutes - model.network.recheck_minutes
    own = repair.price + (repair.minutes + model.network.recheck_minutes) * model.network.rate
    name = model.ids[fault]
    return FaultFigures(
        fault=name,
        share=shown.shares[name],
        detection=shown.detection[name],
        group=next((group for group in shown.groups if name in group), (name,)),
        minutes=minutes,
        money=outcome.money - own,
        right=outcome.right,
    )


def _alone(bay: Bay, fault: int) -> Outcome:
    present = bay.model.sets.index[1 << fault]
    return summed(bay, [bay.work(bay.arrive(present)) for _ in range(CARS_EACH)])
