"""A network made ready for computing: faults as numbers, chances as lists over fault sets."""

from itertools import combinations
from math import prod

from baycalc.isolation.model.fault_model import ELSEWHERE, Network, Repair
from baycalc.isolation.model.hypotheses import FaultSets, mask_of

LARGEST = 3
"""Most faults that are weighed as present at once."""

RECHECK_WITHOUT_CODES = 0.95
"""Chance that the proof shows a fault left behind, in a procedure without codes."""

Key = tuple[str, ...]
"""What evidence speaks of: ("code", code), ("test", test, observation) or ("recheck",)."""

RECHECK: Key = ("recheck",)

Moves = dict[int, list[tuple[int, float]]]
"""For each set that a repair changes: the sets it may become, each with its chance."""


class Model:
    """A network and the lists over its fault sets that inference and planning share.

    Parameters
    ----------
    network : Network
        The network [-].
    largest : int
        Most faults in one set [-].

    Raises
    ------
    ValueError
        Where the network leaves no set of faults possible.

    Notes
    -----
    Faults are numbered in the order of the network; "none of these" comes last, where its
    weight is not zero.
    """

    def __init__(self, network: Network, largest: int = LARGEST) -> None:
        self.network = network
        self.ids = [fault.id for fault in network.faults]
        self.labels = [fault.says for fault in network.faults]
        self.repairs = [fault.repair for fault in network.faults]
        if network.elsewhere.often > 0.0:
            self.ids.append(ELSEWHERE)
            self.labels.append("a cause outside this procedure")
            self.repairs.append(Repair(network.elsewhere.minutes, network.elsewhere.price))
        self.number = {name: place for place, name in enumerate(self.ids)}
        self.tests = {test.id: test for test in network.tests}
        self.sets = FaultSets(len(self.ids), largest)
        self.links = _links(self, later=False)
        self.later = _links(self, later=True)
        self.prior = self._prior()
        self._normal: dict[Key, list[float]] = {}
        self._abnormal: dict[Key, list[float]] = {}
        self._moves: dict[int, Moves] = {}

    def normal(self, key: Key) -> list[float]:
        """Give the chance, for each set, that an observation is normal or a code not stored."""
        if key not in self._normal:
            keep, leak = self._chances(key)
            self._normal[key] = self.sets.normal(
                {fault: 1.0 - chance for fault, chance in keep.items()}, leak
            )
        return self._normal[key]

    def likelihoods(self, key: Key, likelihood: tuple[float, float]) -> list[float]:
        """Give, for each set, the likelihood of a result stated as abnormal and normal."""
        abnormal, ordinary = likelihood
        normal = self.normal(key)
        if likelihood == (0.0, 1.0):
            return normal
        if key not in self._abnormal:
            self._abnormal[key] = [1.0 - chance for chance in normal]
        if likelihood == (1.0, 0.0):
            return self._abnormal[key]
        return [
            abnormal * shown + ordinary * chance
            for shown, chance in zip(self._abnormal[key], normal, strict=True)
        ]

    def moves(self, fault: int) -> Moves:
        """Give, for each set that holds a fault, what the set becomes when it is repaired."""
        if fault not in self._moves:
            self._moves[fault] = {
                place: self._move(place, fault)
                for place, members in enumerate(self.sets.members)
                if fault in members
            }
        return self._moves[fault]

    def shows(self, key: Key) -> dict[int, float]:
        """Give the chance of each fault alone to show in an observation or to set a code."""
        return {fault: chance for fault, chance in self._chances(key)[0].items() if chance > 0.0}

    def _chances(self, key: Key) -> tuple[dict[int, float], float]:
        if key == RECHECK:
            return self._recheck_chances(), 0.0
        if key[0] == "code":
            return self._code_chances(key[1]), self.network.codes[key[1]]
        item = next(item for item in self.tests[key[1]].observations if item.id == key[2])
        return {self.number[name]: chance for name, chance in item.shows.items()}, item.false_alarm

    def _code_chances(self, code: str) -> dict[int, float]:
        """Give the chance of each fault to set a code.

        Notes
        -----
        "None of these" sets it as often as the listed faults do on average: the code then
        speaks neither for it nor against it.
        """
        faults = self.network.faults
        chances = {place: fault.sets.get(code, 0.0) for place, fault in enumerate(faults)}
        whole = sum(fault.often for fault in faults)
        mean = sum(fault.often * fault.sets.get(code, 0.0) for fault in faults) / whole
        return chances | dict.fromkeys(range(len(faults), len(self.ids)), mean)

    def _recheck_chances(self) -> dict[int, float]:
        codes = [self._code_chances(code) for code in self.network.codes]
        chances = {}
        for place in range(len(self.ids)):
            missed = prod(1.0 - code[place] for code in codes)
            chances[place] = 1.0 - missed if codes else RECHECK_WITHOUT_CODES
        for place, fault in enumerate(self.network.faults):
            if fault.recheck is not None:
                chances[place] = fault.recheck
        return chances

    def _prior(self) -> list[float]:
        often = [fault.often for fault in self.network.faults]
        often += [self.network.elsewhere.often] * (len(self.ids) - len(often))
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

    def _move(self, place: int, fault: int) -> list[tuple[int, float]]:
        rest = [member for member in self.sets.members[place] if member != fault]
        fresh = {
            child: chance
            for child, chance in self.later.get(fault, {}).items()
            if child not in rest and chance > 0.0
        }
        moves = []
        for size in range(len(fresh) + 1):
            for come in combinations(fresh, size):
                chance = prod(c if child in come else 1.0 - c for child, c in fresh.items())
                target = self.sets.index.get(mask_of([*rest, *come]))
                if target is not None:
                    moves.append((target, chance))
        return moves


def _links(model: Model, later: bool) -> dict[int, dict[int, float]]:
    return {
        model.number[fault.id]: {
            model.number[name]: link.later if later else link.chance
            for name, link in fault.leads_to.items()
        }
        for fault in model.network.faults
        if fault.leads_to
    }
