"""What the tests of a procedure can show at all: faults detected, and told from each other."""

from dataclasses import dataclass
from itertools import combinations, product
from math import prod, sqrt

from baycalc.isolation.model.bayes_net import Key, Model

DETECTED = 0.5
"""Chance of being shown by any test from which a fault counts as detected."""

SEPARATED = 0.5
"""Distance of the results of all tests from which two faults count as separated: told apart
rightly in three cars of four or more, where both are equally likely."""

TELLING = 8
"""Most observations that are weighed together to separate two faults."""


@dataclass(frozen=True)
class Diagnosability:
    """What the tests of a procedure can show at all, were all of them done on each car.

    Parameters
    ----------
    shares : dict
        For each fault, in the order of the network, its share of all by frequency [-].
    detection : dict
        For each fault the chance that some test shows it, where it alone is present [-].
    unseen : tuple of str
        Faults that no test sees [-].
    faint : tuple of str
        Faults that tests see, but not well enough to count as detected [-].
    groups : tuple
        Ambiguity groups of two and more [-].
    detected, detected_weighted : float
        Share of the faults detected; the same weighted by frequency [-].
    isolated, isolated_weighted : float
        Share of the detected faults that are separated from every other one; weighted [-].

    References
    ----------
    .. [1] IEEE Std 1522, testability metrics: fraction of faults detected and isolated (terms
       from memory).
    """

    shares: dict[str, float]
    detection: dict[str, float]
    unseen: tuple[str, ...]
    faint: tuple[str, ...]
    groups: tuple[tuple[str, ...], ...]
    detected: float
    detected_weighted: float
    isolated: float
    isolated_weighted: float


def diagnosability(model: Model) -> Diagnosability:
    """Work out which faults the tests detect and separate; no car is simulated for it.

    Parameters
    ----------
    model : Model
        The model of the procedure [-].

    Returns
    -------
    found : Diagnosability
        Chances of detection, and the groups that are not separated [-].
    """
    shown = {model.ids[fault]: detection(model, fault) for fault in range(_listed(model))}
    whole = sum(fault.often for fault in model.network.faults)
    shares = {fault.id: fault.often / whole for fault in model.network.faults}
    groups = sorted(group for group in ambiguity_groups(model) if len(group) > 1)
    mixed = {model.ids[fault] for group in groups for fault in group}
    found = [fault for fault, chance in shown.items() if chance >= DETECTED]
    alone = [fault for fault in found if fault not in mixed]
    weights = [sum(shares[fault] for fault in some) for some in (alone, found)]
    return Diagnosability(
        shares=shares,
        detection=shown,
        unseen=tuple(fault for fault, chance in shown.items() if chance == 0.0),
        faint=tuple(fault for fault, chance in shown.items() if 0.0 < chance < DETECTED),
        groups=tuple(tuple(model.ids[fault] for fault in group) for group in groups),
        detected=len(found) / len(shown),
        detected_weighted=weights[1],
        isolated=len(alone) / len(found) if found else 0.0,
        isolated_weighted=weights[0] / weights[1] if found else 0.0,
    )


def detection(model: Model, fault: int) -> float:
    """Chance that some test shows a fault that is alone [-]."""
    return 1.0 - prod(1.0 - model.shows(key).get(fault, 0.0) for key in _observations(model))


def ambiguity_groups(model: Model) -> list[tuple[int, ...]]:
    """Group the faults that no test separates; a fault of its own is a group of one.

    Notes
    -----
    Groups are closed: where the first cannot be told from the second nor the second from the
    third, all three are one group.
    """
    groups = [{fault} for fault in range(_listed(model))]
    for one, other in combinations(range(_listed(model)), 2):
        if not _separated(model, one, other):
            first = next(group for group in groups if one in group)
            second = next(group for group in groups if other in group)
            if first is not second:
                first |= second
                groups.remove(second)
    return [tuple(sorted(group)) for group in groups]


def distance(model: Model, one: int, other: int) -> float:
    """How far apart all results lie for two faults, each alone: total variation [-].

    Notes
    -----
    0 where the tests never differ, 1 where they always tell. Of many observations only the
    most telling ones are weighed together, which can only understate the distance.
    """
    pairs = _differing(model, one, other)
    pairs.sort(key=lambda pair: _likeness(*pair))
    total = 0.0
    for results in product((0, 1), repeat=min(len(pairs), TELLING)):
        chances = [
            prod(
                pair[side] if result else 1.0 - pair[side]
                for result, pair in zip(results, pairs[:TELLING], strict=True)
            )
            for side in (0, 1)
        ]
        total += abs(chances[0] - chances[1])
    return total / 2.0


def _separated(model: Model, one: int, other: int) -> bool:
    """Tell whether the tests separate two faults; one observation that does is enough."""
    single = max((abs(x - y) for x, y in _differing(model, one, other)), default=0.0)
    return single >= SEPARATED or distance(model, one, other) >= SEPARATED


def _differing(model: Model, one: int, other: int) -> list[tuple[float, float]]:
    """Give the chances of a normal result with each of two faults, where they differ."""
    first, second = model.sets.index[1 << one], model.sets.index[1 << other]
    return [
        (normal[first], normal[second])
        for normal in (model.columns(key)[0] for key in _observations(model))
        if normal[first] != normal[second]
    ]


def _likeness(first: float, second: float) -> float:
    return sqrt(first * second) + sqrt((1.0 - first) * (1.0 - second))


def _observations(model: Model) -> list[Key]:
    return [
        Key("test", test.id, item.id) for test in model.network.tests for item in test.observations
    ]


def _listed(model: Model) -> int:
    return len(model.network.faults)
