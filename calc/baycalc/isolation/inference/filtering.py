"""Belief over fault sets, carried through the history of a job, exactly (forward filtering)."""

from collections.abc import Collection
from operator import mul

from baycalc.isolation.inference.evidence import Evidence
from baycalc.isolation.model.bayes_net import RECHECK, Key, Likelihood, Model

MISSED_RECHECK = 0.01
"""Chance that the proof misses a complaint of which no cause has been repaired at all [-];
common practice, no source."""


class Belief:
    """Weights of the fault sets, given what is known so far.

    Parameters
    ----------
    model : Model
        The model of the procedure.
    prior : list of float
        Weight of each set before anything is known [-].

    Notes
    -----
    Two lists: sets in a car that is as it came in, and sets in a car in which some repair met
    a fault that was really there. They differ in the proof: the first car still has its
    complaint; in the second one the proof shows each fault left behind with its own chance.
    """

    def __init__(self, model: Model, prior: list[float]) -> None:
        self.model = model
        self.same = prior
        self.changed: list[float] | None = None
        self.chance = 1.0

    def copy(self) -> "Belief":
        """Give a belief that can be carried on apart from this one."""
        other = Belief(self.model, self.same)
        other.changed, other.chance = self.changed, self.chance
        return other

    @property
    def weights(self) -> list[float]:
        """Weight of each set, whether the car is as it came in or not."""
        if self.changed is None:
            return self.same
        return [one + other for one, other in zip(self.same, self.changed, strict=True)]

    def learn(self, key: Key, likelihood: Likelihood) -> None:
        """Take in one piece of evidence."""
        factors = self.model.likelihoods(key, likelihood)
        if self.changed is not None:
            self.changed = list(map(mul, self.changed, factors))
        if key == RECHECK:
            normal, abnormal = likelihood
            missed = abnormal * (1.0 - MISSED_RECHECK) + normal * MISSED_RECHECK
            factors = [normal] + [missed] * (len(factors) - 1)
        self.same = list(map(mul, self.same, factors))

    def repair(self, fault: int) -> None:
        """Take away what a repair clears, with the knock-ons that may come after it."""
        changed = self.changed or [0.0] * len(self.same)
        moved = list(changed)
        moves = self.model.moves(fault)
        for place in moves:
            moved[place] = 0.0
        same = list(self.same)
        for place, targets in moves.items():
            weight = same[place] + changed[place]
            same[place] = 0.0
            for target, chance in targets:
                moved[target] += weight * chance
        self.same, self.changed = same, moved

    def undo_repair(self, fault: int) -> None:
        """Carry chances of what is seen later back over a repair (see `smoothing`)."""
        changed = self.changed or [0.0] * len(self.same)
        back = {
            place: sum(changed[target] * chance for target, chance in targets)
            for place, targets in self.model.moves(fault).items()
        }
        self.same, self.changed = list(self.same), list(changed)
        for place, chance in back.items():
            self.same[place] = self.changed[place] = chance

    def scale(self) -> float:
        """Bring the weights to a sum of 1; count in `chance` what the sum was, and give it [-]."""
        total = sum(self.same) + sum(self.changed or ())
        self.chance *= total
        if total > 0.0:
            self.same = [weight / total for weight in self.same]
            if self.changed is not None:
                self.changed = [weight / total for weight in self.changed]
        return total


def update(
    model: Model, evidence: Evidence, leave_out: Collection[int] = ()
) -> tuple[Belief, list[Belief]]:
    """Carry the belief through a job.

    Parameters
    ----------
    model : Model
        The model of the procedure.
    evidence : Evidence
        The evidence, state by state.
    leave_out : collection of int
        Places in the history of evidence to be ignored [-].

    Returns
    -------
    belief : Belief
        Weights that sum to 1, or all zero where the evidence contradicts itself; its `chance`
        is that of all the evidence.
    before : list of Belief
        The belief just before each repair.
    """
    belief = Belief(model, model.prior(evidence.outside))
    before = []
    for stage in evidence.stages:
        for fact in stage.all():
            if fact.place not in leave_out:
                belief.learn(fact.key, fact.likelihood)
        belief.scale()
        if stage.repair is not None:
            before.append(belief.copy())
            belief.repair(stage.repair)
            belief.scale()
    return belief, before
