"""Belief over fault sets, carried through the history of a job, exactly."""

from collections.abc import Collection
from dataclasses import dataclass, field
from operator import mul

from baycalc.isolation.inference.evidence import NOTHING, Entry
from baycalc.isolation.model.bayes_net import RECHECK, Key, Model

MISSED_RECHECK = 0.01
"""Chance that the proof misses a complaint of which no cause has been repaired at all."""


class Belief:
    """Weights of the fault sets, given what is known so far.

    Parameters
    ----------
    model : Model
        The model of the procedure [-].

    Notes
    -----
    Two lists: sets in a car that is as it came in, and sets in a car in which some repair met
    a fault that was really there. They differ in the proof: the first car still has its
    complaint; in the second one the proof shows each fault left behind with its own chance.
    """

    def __init__(self, model: Model) -> None:
        self.model = model
        self.same = list(model.prior)
        self.changed: list[float] | None = None
        self.chance = 1.0

    def copy(self) -> "Belief":
        """Give a belief that can be carried on apart from this one."""
        other = Belief(self.model)
        other.same, other.changed, other.chance = self.same, self.changed, self.chance
        return other

    @property
    def weights(self) -> list[float]:
        """Weight of each set, whether the car is as it came in or not."""
        if self.changed is None:
            return self.same
        return [one + other for one, other in zip(self.same, self.changed, strict=True)]

    def learn(self, key: Key, likelihood: tuple[float, float]) -> None:
        """Take in one piece of evidence."""
        if likelihood == NOTHING:
            return
        factors = self.model.likelihoods(key, likelihood)
        if self.changed is not None:
            self.changed = list(map(mul, self.changed, factors))
        if key == RECHECK:
            missed = likelihood[0] * (1.0 - MISSED_RECHECK) + likelihood[1] * MISSED_RECHECK
            factors = [likelihood[1]] + [missed] * (len(factors) - 1)
        self.same = list(map(mul, self.same, factors))

    def repair(self, fault: int) -> None:
        """Take a fault away, with the knock-ons that may come after its repair."""
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


@dataclass
class Stage:
    """The evidence of one state of the car, and the repair that ended it."""

    facts: dict[Key, Entry] = field(default_factory=dict)
    repair: int | None = None


def stages_of(model: Model, entries: list[Entry]) -> list[Stage]:
    """Sort the events of a job by the state of the car they speak of.

    Notes
    -----
    A test repeated in the same state is no independent witness: its newest result replaces
    the older one, and *not done* leaves an older one standing.
    """
    stages = [Stage()]
    for entry in entries:
        if entry.key[0] == "repair":
            stages[-1].repair = model.number[entry.key[1]]
            stages.append(Stage())
        elif entry.likelihood != NOTHING:
            stages[-1].facts[entry.key] = entry
    return stages


def believe(
    model: Model, stages: list[Stage], leave_out: Collection[int] = ()
) -> tuple[Belief, list[Belief]]:
    """Carry the belief through a job.

    Parameters
    ----------
    model : Model
        The model of the procedure [-].
    stages : list of Stage
        The evidence, state by state [-].
    leave_out : collection of int
        Places in the history of evidence to be ignored [-].

    Returns
    -------
    belief : Belief
        Weights that sum to 1, or all zero where the evidence contradicts itself; its `chance`
        is that of all the evidence [-].
    before : list of Belief
        The belief just before each repair [-].
    """
    belief = Belief(model)
    before = []
    for stage in stages:
        for key, entry in stage.facts.items():
            if entry.place not in leave_out:
                belief.learn(key, entry.likelihood)
        belief.scale()
        if stage.repair is not None:
            before.append(belief.copy())
            belief.repair(stage.repair)
            belief.scale()
    return belief, before
