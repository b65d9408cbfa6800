"""What a closed job says of its car: the faults in it at every state, in the light of the whole."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from baybook.learning.patterns import Fact, Pattern
from baycalc.isolation.inference.filtering import MISSED_RECHECK
from baycalc.isolation.model.bayes_net import RECHECK, Key, Model

Floats = NDArray[np.float64]

FACTORS_KEPT = 4000
"""Facts whose likelihoods stay ready [-]."""


class Smoother:
    """Weighs whole jobs with one model: forward, then backward (forward-backward smoothing).

    Parameters
    ----------
    model : Model
        The model.
    """

    def __init__(self, model: Model) -> None:
        self.model = model
        self.holds = np.zeros((len(model.ids), len(model.sets.masks)))
        for place, members in enumerate(model.sets.members):
            self.holds[list(members), place] = 1.0
        self.columns: dict[Key, Floats] = {}
        self._factors: dict[Fact, Floats] = {}
        self._moves: dict[int, tuple[NDArray[np.intp], NDArray[np.intp], Floats]] = {}
        self._priors: dict[str, Floats] = {}

    def held(self, fault: str) -> Floats:
        """Tell of each set whether it holds a fault: 1 or 0 [-]."""
        return np.asarray(self.holds[self.model.number[fault]])

    def outside_share(self, code: str) -> float:
        """Give the share of a cause outside that a stored code calls for, or no code [-]."""
        outside = self.model.network.outside
        return outside.with_codes[code] if code else outside.share

    def prior(self, code: str) -> Floats:
        """Give the chance of each set of faults before anything is known.

        Parameters
        ----------
        code : str
            The code that says how likely a cause outside is; "" for none.
        """
        if code not in self._priors:
            self._priors[code] = np.array(self.model.prior(self.outside_share(code)))
        return self._priors[code]

    def column(self, key: Key) -> Floats:
        """Give the chance of each outcome of a piece of evidence in each set [-]."""
        if key not in self.columns:
            self.columns[key] = np.array(self.model.columns(key))
        return self.columns[key]

    def weigh(self, pattern: Pattern) -> tuple[float, list[Floats]]:
        """Weigh a job.

        Parameters
        ----------
        pattern : Pattern
            The job.

        Returns
        -------
        log_chance : float
            Logarithm of the chance of all that was seen; -inf where it cannot be [-].
        weights : list of array
            For each state the share of belief of each set of faults, each list summing to 1 [-].
        """
        factors = [self._stage_factors(facts) for facts, _ in pattern.stages]
        forward: list[tuple[Floats, Floats | None]] = []
        same, changed = self.prior(pattern.outside), None
        log_chance = 0.0
        for (factor, later_factor), (_, repair) in zip(factors, pattern.stages, strict=True):
            same = same * factor
            changed = None if changed is None else changed * later_factor
            total = float(same.sum()) + (0.0 if changed is None else float(changed.sum()))
            if total <= 0.0:
                return -np.inf, []
            log_chance += float(np.log(total))
            same = same / total
            changed = None if changed is None else changed / total
            forward.append((same, changed))
            if repair >= 0:
                same, changed = self._repaired(repair, same, changed)
        return log_chance, self._backward(pattern, factors, forward)

    def _backward(
        self,
        pattern: Pattern,
        factors: list[tuple[Floats, Floats]],
        forward: list[tuple[Floats, Floats | None]],
    ) -> list[Floats]:
        same, changed = forward[-1]
        found = [same if changed is None else same + changed]
        later = later_changed = np.ones(len(same))
        for place in range(len(forward) - 2, -1, -1):
            factor, factor_changed = factors[place + 1]
            later, later_changed = later * factor, later_changed * factor_changed
            later, later_changed = self._unrepaired(pattern.stages[place][1], later, later_changed)
            most = max(float(later.max()), float(later_changed.max()))
            later, later_changed = later / most, later_changed / most
            same, changed = forward[place]
            weights = same * later
            if changed is not None:
                weights = weights + changed * later_changed
            found.append(weights / weights.sum())
        return found[::-1]

    def _stage_factors(self, facts: Sequence[Fact]) -> tuple[Floats, Floats]:
        """Give the likelihood of a state in a car as it came, and in one that a repair changed."""
        common = np.ones(len(self.model.sets.masks))
        as_it_came: Floats | None = None
        changed: Floats | None = None
        for key, likelihood in facts:
            if key == RECHECK:
                normal, abnormal = likelihood
                missed = abnormal * (1.0 - MISSED_RECHECK) + normal * MISSED_RECHECK
                as_it_came = np.full(len(common), missed)
                as_it_came[0] = normal
                changed = self._factor((key, likelihood))
            else:
                common = common * self._factor((key, likelihood))
        if as_it_came is None or changed is None:
            return common, common
        return common * as_it_came, common * changed

    def _factor(self, fact: Fact) -> Floats:
        found = self._factors.get(fact)
        if found is None:
            key, likelihood = fact
            found = np.array(likelihood) @ self.column(key)
            if len(self._factors) < FACTORS_KEPT:
                self._factors[fact] = found
        return found

    def _move(self, fault: int) -> tuple[NDArray[np.intp], NDArray[np.intp], Floats]:
        if fault not in self._moves:
            rows = [
                (place, target, chance)
                for place, targets in self.model.moves(fault).items()
                for target, chance in targets
            ]
            sources, targets, chances = zip(*rows, strict=True) if rows else ((), (), ())
            self._moves[fault] = (
                np.array(sources, dtype=np.intp),
                np.array(targets, dtype=np.intp),
                np.array(chances, dtype=np.float64),
            )
        return self._moves[fault]

    def _repaired(self, fault: int, same: Floats, changed: Floats | None) -> tuple[Floats, Floats]:
        sources, targets, chances = self._move(fault)
        before = same if changed is None else same + changed
        after = np.zeros(len(same)) if changed is None else changed.copy()
        still = same.copy()
        still[sources] = 0.0
        after[sources] = 0.0
        np.add.at(after, targets, before[sources] * chances)
        return still, after

    def _unrepaired(self, fault: int, same: Floats, changed: Floats) -> tuple[Floats, Floats]:
        """Carry chances of what was seen later back over a repair."""
        sources, targets, chances = self._move(fault)
        back = np.zeros(len(same))
        np.add.at(back, sources, changed[targets] * chances)
        same, changed = same.copy(), changed.copy()
        same[sources] = changed[sources] = back[sources]
        return same, changed
