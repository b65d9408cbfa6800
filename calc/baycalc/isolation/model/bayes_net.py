"""A network made ready for computing: faults as numbers, chances as lists over fault sets."""

from functools import cached_property
from itertools import combinations
from math import prod
from typing import NamedTuple

from baycalc.isolation.model.fault_model import OUTSIDE, Fault, Network, Observation, Repair
from baycalc.isolation.model.hypotheses import FaultSets, mask_of

LARGEST = 3
"""Most faults that are weighed as present at once; a fourth moves no share by 0.002 [-]."""

RECHECK_WITHOUT_CODES = 0.95
"""Chance that the proof shows a fault left behind, in a procedure without codes [-]."""

ONCE = 0.05
"""Chance that a result comes once and not again though no fault comes and goes [-]; common
practice, no source."""


class Key(NamedTuple):
    """What a piece of evidence speaks of.

    Attributes
    ----------
    kind : str
        "code", "complaint", "test", "again" (an earlier result of a repeated test), "outside"
        (a look outside), "recheck"; in events also "repair", "codes", "state", "opening".
    name, observation : str
        The code, complaint or test; the observation of a test.
    """

    kind: str
    name: str = ""
    observation: str = ""


RECHECK = Key("recheck")
LOOK = Key("outside")

Likelihood = tuple[float, ...]
"""Likelihood of what was seen under each outcome, the normal one first [-]."""

Columns = tuple[list[float], ...]
"""Chance of each outcome, the normal one first, in each set of faults [-]."""

Moves = dict[int, list[tuple[int, float]]]
"""For each set that a repair changes: the sets it may become, each with its chance."""

Rows = list[dict[int, float]]
"""For each abnormal outcome the chance of each fault to bring it [-]."""


class Model:
    """A network and the lists over its fault sets that inference and planning share.

    Parameters
    ----------
    network : Network
        The network.

    Raises
    ------
    ValueError
        Where the network leaves no set of faults possible.

    Notes
    -----
    Faults are numbered in the order of the network; "none of these" comes last, where it has a
    share at all.
    """

    def __init__(self, network: Network) -> None:
        self.network = network
        faults, outside = network.faults, network.outside
        self.ids = [fault.id for fault in faults]
        self.labels = [fault.says for fault in faults]
        self.repairs = [fault.repair for fault in faults]
        if max(outside.share, *outside.with_codes.values(), 0.0) > 0.0:
            self.ids.append(OUTSIDE)
            self.labels.append("a cause outside this procedure")
            self.repairs.append(Repair(outside.minutes, outside.price))
        self.number = {name: place for place, name in enumerate(self.ids)}
        self.cures = [
            frozenset((place, *(self.number[name] for name in repair.cures)))
            for place, repair in enumerate(self.repairs)
        ]
        self.tests = {test.id: test for test in network.tests}
        self.sets = FaultSets(len(self.ids), LARGEST)
        self.links = _links(self, later=False)
        self.later = _links(self, later=True)
        self._priors: dict[float, list[float]] = {}
        self._columns: dict[Key, Columns] = {}
        self._moves: dict[frozenset[int], Moves] = {}
        self.prior(outside.share)

    @cached_property
    def intermittent(self) -> dict[int, float]:
        """Give the faults that come and go, each with its chance to be there at one test."""
        faults = enumerate(self.network.faults)
        return {place: fault.present for place, fault in faults if fault.present < 1.0}

    def observation(self, key: Key) -> Observation:
        """Give the observation that a key speaks of."""
        seen = self.tests[key.name].observations
        return next(item for item in seen if item.id == key.observation)

    def prior(self, share: float) -> list[float]:
        """Give the chance of each set before anything is known.

        Parameters
        ----------
        share : float
            Share of a cause outside [-].
        """
        if share not in self._priors:
            self._priors[share] = self._prior(share)
        return self._priors[share]

    def columns(self, key: Key) -> Columns:
        """Give the chance of each outcome in each set.

        Notes
        -----
        Noisy-MAX [1]_: each fault brings an outcome by itself, and the outcome that hides the
        others is seen. With one abnormal outcome this is the noisy-OR.

        References
        ----------
        .. [1] F. J. Diez, Parameter adjustment in Bayes networks: the generalized noisy OR-gate,
           UAI 1993 (from memory).
        """
        if key not in self._columns:
            self._columns[key] = self._outcomes(*self.rows(key))
        return self._columns[key]

    def likelihoods(self, key: Key, likelihood: Likelihood) -> list[float]:
        """Give, for each set, the likelihood of a result stated outcome by outcome."""
        columns = self.columns(key)
        if sum(likelihood) == 1.0 and max(likelihood) == 1.0:
            return columns[likelihood.index(1.0)]
        return [
            sum(weight * chance for weight, chance in zip(likelihood, row, strict=True))
            for row in zip(*columns, strict=True)
        ]

    def moves(self, fault: int) -> Moves:
        """Give, for each set that the repair of a fault changes, what the set becomes."""
        cures = self.cures[fault]
        if cures not in self._moves:
            self._moves[cures] = {
                place: self._move(place, cures)
                for place, members in enumerate(self.sets.members)
                if not cures.isdisjoint(members)
            }
        return self._moves[cures]

    def shows(self, key: Key) -> dict[int, float]:
        """Give the chance of each fault alone to bring an abnormal outcome."""
        rows = self.rows(key)[0]
        return {
            fault: whole
            for fault in range(len(self.ids))
            if (whole := sum(row.get(fault, 0.0) for row in rows)) > 0.0
        }

    def _outcomes(self, rows: Rows, leaks: list[float]) -> Columns:
        spared: dict[int, float] = {}
        leak = 0.0
        columns = []
        before = [1.0] * len(self.sets.masks)
        for row, more in zip(rows, leaks, strict=True):
            leak = min(1.0, leak + more)
            for fault, chance in row.items():
                spared[fault] = max(0.0, spared.get(fault, 1.0) - chance)
            none = self.sets.normal(spared, leak)
            columns.append([was - now for was, now in zip(before, none, strict=True)])
            before = none
        return (before, *columns)

    def rows(self, key: Key) -> tuple[Rows, list[float]]:
        """Give the chances of the abnormal outcomes by fault, and of each false alarm."""
        network = self.network
        if key.kind == "recheck":
            return [self._recheck_chances()], [0.0]
        if key.kind == "outside":
            return [{self.number[OUTSIDE]: network.outside.found}], [0.0]
        if key.kind == "code":
            row = {p: fault.sets.get(key.name, 0.0) for p, fault in enumerate(network.faults)}
            return [self._with_outside(row)], [network.codes[key.name].false_alarm]
        if key.kind == "complaint":
            row = {p: fault.complaints.get(key.name, 0.0) for p, fault in enumerate(network.faults)}
            return [self._with_outside(row)], [network.complaints[key.name].false_alarm]
        item = self.observation(key)
        if key.kind == "again":
            return [self._row(item, self.intermittent)], [ONCE]
        rows = [
            {
                self.number[name]: chance * self.intermittent.get(self.number[name], 1.0)
                for name, chance in band.shows.items()
            }
            for band in item.bands
        ]
        if item.restates:
            rows = [self._with_outside(row) for row in rows]
        return rows, [band.false_alarm for band in item.bands]

    def _row(self, item: Observation, present: dict[int, float]) -> dict[int, float]:
        return {fault: item.shows(self.ids[fault]) * chance for fault, chance in present.items()}

    def _with_outside(self, row: dict[int, float]) -> dict[int, float]:
        """Let "none of these" show as often as the listed faults do on average.

        What is seen then speaks neither for it nor against it.
        """
        if OUTSIDE not in self.number:
            return row
        faults = self.network.faults
        whole = sum(fault.often for fault in faults)
        mean = sum(fault.often * row.get(place, 0.0) for place, fault in enumerate(faults)) / whole
        return {**row, self.number[OUTSIDE]: mean}

    def _recheck_chances(self) -> dict[int, float]:
        codes = [self.rows(Key("code", code))[0][0] for code in self.network.codes]
        chances = {}
        for place in range(len(self.ids)):
            missed = prod(1.0 - code[place] for code in codes)
            chances[place] = 1.0 - missed if codes else RECHECK_WITHOUT_CODES
        for place, fault in enumerate(self.network.faults):
            if fault.recheck is not None:
                chances[place] = fault.recheck
        return chances

    def _prior(self, share: float) -> list[float]:
        often = [fault.often for fault in self.network.faults]
        often += [share / (1.0 - share) * sum(often)] * (len(self.ids) - len(often))
        base = self.network.base / sum(often)
        weights = self.sets.prior([weight * base for weight in often], self.links)
        weights[0] = 0.0
        whole = sum(weights)
        if whole <= 0.0:
            raise ValueError(
                f"faults: expected a car with {LARGEST} faults or fewer to be possible, "
                "got knock-on chances of 1 that always lead to more"
            )
        return [weight / whole for weight in weights]

    def _move(self, place: int, cures: frozenset[int]) -> list[tuple[int, float]]:
        """Take the cured faults out of a set; their later knock-ons may come instead."""
        members = self.sets.members[place]
        rest = [member for member in members if member not in cures]
        spared: dict[int, float] = {}
        for cause in cures.intersection(members):
            for child, chance in self.later.get(cause, {}).items():
                if child not in rest and child not in cures and chance > 0.0:
                    spared[child] = spared.get(child, 1.0) * (1.0 - chance)
        moves = []
        for size in range(len(spared) + 1):
            for come in combinations(spared, size):
                chance = prod(1.0 - left if c in come else left for c, left in spared.items())
                target = self.sets.index.get(mask_of([*rest, *come]))
                if target is not None and chance > 0.0:
                    moves.append((target, chance))
        return moves


def _links(model: Model, later: bool) -> dict[int, dict[int, float]]:
    def chances(fault: Fault) -> dict[int, float]:
        return {
            model.number[name]: link.later if later else link.chance
            for name, link in fault.leads_to.items()
        }

    faults = model.network.faults
    return {model.number[fault.id]: chances(fault) for fault in faults if fault.leads_to}
