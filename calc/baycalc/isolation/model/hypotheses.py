"""Sets of faults present at once, their prior weights, and noisy-OR over them: the shared core."""

from collections.abc import Iterable, Mapping
from itertools import combinations
from math import prod

Links = Mapping[int, Mapping[int, float]]
"""For each cause the chance that it brings each of its knock-ons."""


class FaultSets:
    """All sets of up to a few faults out of `count`, as bit masks.

    Parameters
    ----------
    count : int
        Number of faults [-].
    largest : int
        Most faults in one set [-].

    Notes
    -----
    Sets are ordered by size, so that each set without its highest member (its `stem`) stands
    before it: a product over the members is then one multiplication a set.
    """

    def __init__(self, count: int, largest: int) -> None:
        self.count = count
        self.members = [
            members
            for size in range(min(count, largest) + 1)
            for members in combinations(range(count), size)
        ]
        self.masks = [mask_of(members) for members in self.members]
        self.index = {mask: place for place, mask in enumerate(self.masks)}
        self.stems = [self.index[mask_of(members[:-1])] for members in self.members]
        self.tops = [members[-1] if members else 0 for members in self.members]

    def normal(self, keep: Mapping[int, float], leak: float) -> list[float]:
        """Give the chance, for each set, that none of its members nor the leak shows.

        Parameters
        ----------
        keep : dict
            For each fault the chance that it does not show; missing means 1 [-].
        leak : float
            Chance of showing with no fault [-].

        Returns
        -------
        normal : list of float
            The noisy-OR's complement for each set [-].
        """
        factors = [keep.get(fault, 1.0) for fault in range(self.count)]
        normal = [1.0 - leak]
        for stem, top in zip(self.stems[1:], self.tops[1:], strict=True):
            normal.append(normal[stem] * factors[top])
        return normal

    def prior(
        self, roots: list[float], links: Links, places: Iterable[int] | None = None
    ) -> list[float]:
        """Give the chance of each set, roots and knock-ons together.

        Parameters
        ----------
        roots : list of float
            Chance that each fault is there with a cause of its own [-].
        links : dict
            Chance that each fault brings each of its knock-ons [-].
        places : iterable of int, optional
            Numbers of the sets that are wanted; all where none is given [-].

        Returns
        -------
        weights : list of float
            Chance of each of these sets, not normalised over the sets kept [-].

        Notes
        -----
        Every fault is a root by its own chance and every link acts by its own chance; present
        is what is reached. Without circles this is the noisy-OR network of the faults, with
        circles it still has a meaning: no fault lives by its own knock-on alone.
        """
        still = prod(1.0 - chance for chance in roots)
        weights = []
        for place in range(len(self.members)) if places is None else places:
            members = self.members[place]
            outside = still / prod(1.0 - roots[fault] for fault in members)
            outside *= prod(
                1.0 - chance
                for cause in members
                for fault, chance in links.get(cause, {}).items()
                if fault not in members
            )
            weights.append(outside * _all_there(members, roots, links))
        return weights

    def shares(self, weights: list[float]) -> list[float]:
        """Add up, for each fault, the weights of the sets that hold it."""
        shares = [0.0] * self.count
        for weight, members in zip(weights, self.members, strict=True):
            for fault in members:
                shares[fault] += weight
        return shares


def mask_of(members: Iterable[int]) -> int:
    """Give the bit mask of some faults."""
    return sum(1 << fault for fault in members)


def _all_there(members: tuple[int, ...], roots: list[float], links: Links) -> float:
    """Chance that every member is a root or reached from one inside the set."""
    inside = [cause for cause in members if any(fault in members for fault in links.get(cause, {}))]
    if not inside:
        return prod(roots[fault] for fault in members)
    total = 0.0
    for first in _some_of(members):
        rest = tuple(fault for fault in members if fault not in first)
        start = prod(roots[fault] for fault in first) * prod(1.0 - roots[fault] for fault in rest)
        total += start * _reached(first, rest, links)
    return total


def _reached(front: tuple[int, ...], rest: tuple[int, ...], links: Links) -> float:
    """Chance that the faults newly there lead, step by step, to all of the rest."""
    if not rest:
        return 1.0
    spared = {
        fault: prod(1.0 - links.get(cause, {}).get(fault, 0.0) for cause in front) for fault in rest
    }
    total = 0.0
    for hit in _some_of(rest):
        left = tuple(fault for fault in rest if fault not in hit)
        step = prod(1.0 - spared[fault] for fault in hit) * prod(spared[fault] for fault in left)
        if step > 0.0:
            total += step * _reached(hit, left, links)
    return total


def _some_of(members: tuple[int, ...]) -> Iterable[tuple[int, ...]]:
    return (some for size in range(1, len(members) + 1) for some in combinations(members, size))
