"""Looks back: was the fault really there when its repair was done?"""

from collections.abc import Collection
from operator import mul

from baycalc.isolation.inference.filtering import Belief, Stage
from baycalc.isolation.model.bayes_net import Model


def shares_met(
    model: Model, stages: list[Stage], before: list[Belief], leave_out: Collection[int]
) -> dict[str, float]:
    """Give for each repair the share of belief that it met its fault.

    Parameters
    ----------
    model : Model
        The model of the procedure [-].
    stages : list of Stage
        The evidence, state by state [-].
    before : list of Belief
        The belief just before each repair [-].
    leave_out : collection of int
        Places in the history of evidence to be ignored [-].

    Returns
    -------
    shares : dict
        By fault, in the order of the repairs; of a fault repaired twice the last one [-].

    Notes
    -----
    Carried from the end of the job to its start: for each set of faults the chance of all that
    was seen later. Together with the belief before a repair this gives the belief of then in
    the light of everything known now (forward-backward smoothing).
    """
    later = Belief(model)
    later.same = [1.0] * len(model.prior)
    later.changed = list(later.same)
    shares: list[tuple[str, float]] = []
    for stage in reversed(stages):
        if stage.repair is not None:
            then = before[len(before) - 1 - len(shares)]
            later.undo_repair(stage.repair)
            shares.append((model.ids[stage.repair], _share(then, later, stage.repair)))
        if len(shares) == len(before):
            break  # what was seen before the first repair is in the belief of then
        for key, entry in stage.facts.items():
            if entry.place not in leave_out:
                later.learn(key, entry.likelihood)
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
