"""Looks back: was the fault really there when its repair was done?"""

from collections.abc import Collection
from operator import mul

from baycalc.isolation.inference.evidence import Evidence
from baycalc.isolation.inference.filtering import Belief
from baycalc.isolation.model.bayes_net import Model


def smoothed_marginals(
    model: Model, evidence: Evidence, before: list[Belief], leave_out: Collection[int]
) -> dict[str, float]:
    """Give for each repair the share of belief that it met its fault.

    Parameters
    ----------
    model : Model
        The model of the procedure [-].
    evidence : Evidence
        The evidence, state by state [-].
    before : list of Belief
        The belief just before each repair [-].
    leave_out : collection of int
        Places in the history of evidence to be ignored [-].

    Returns
    -------
    shares : dict
        By the fault repaired, in their order; of one repaired twice the last time [-].

    Notes
    -----
    Carried from the end of the job to its start: for each set of faults the chance of all that
    was seen later. Together with the belief before a repair this gives the belief of then in
    the light of everything known now (forward-backward smoothing).
    """
    later = Belief(model, [1.0] * len(model.sets.masks))
    later.changed = list(later.same)
    shares: list[tuple[str, float]] = []
    for stage in reversed(evidence.stages):
        if stage.repair is not None:
            then = before[len(before) - 1 - len(shares)]
            later.undo_repair(stage.repair)
            shares.append((model.ids[stage.repair], _share(then, later, stage.repair)))
        if len(shares) == len(before):
            break  # what was seen before the first repair is in the belief of then
        for fact in stage.all():
            if fact.place not in leave_out:
                later.learn(fact.key, fact.likelihood)
        later.scale()
    return dict(reversed(shares))


def _share(then: Belief, later: Belief, fault: int) -> float:
    """Weigh what was believed before a repair by all that came after it."""
    held = then.model.moves(fault)
    products = list(map(mul, then.same, later.same))
    if then.changed is not None and later.changed is not None:
        products += map(mul, then.changed, later.changed)
    whole = sum(products)
    count = len(then.same)
    met = sum(chance for place, chance in enumerate(products) if place % count in held)
    return met / whole if whole > 0.0 else 0.0
