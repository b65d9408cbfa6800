"""The best that can be done on a small procedure: every order of tests and repairs is tried."""

from typing import Any

import numpy as np

Json = dict[str, Any]


def optimum(data: Json) -> float:
    """Least expected cost for one fault among few, by dynamic programming over all states.

    No part is bought before a test has looked for its fault.

    A state is the results so far (each test once: not done, shown, not shown), the faults
    already ruled out by a repair in vain, and the set-up. From it one may do any test left, or
    repair any group of faults one after the other and prove it once.
    """
    tests, faults = data["tests"], data["faults"]
    setups = [None, *data["setups"]]
    digits = np.array(list(np.ndindex(*[3] * len(tests))))
    place = 3 ** np.arange(len(tests))[::-1]
    weights = _weights(data, digits)
    ruled_out = np.array(
        [[group >> fault & 1 for fault in range(len(faults))] for group in range(2 ** len(faults))]
    )
    left = weights @ (1 - ruled_out).T
    groups = ruled_out @ np.array([_cost(data, fault) for fault in faults])
    blocked = _blocked(data, digits, weights, ruled_out, setups)
    best = np.full((len(digits), len(groups), len(setups)), np.inf)
    for done in range(len(tests), -1, -1):
        rows = np.flatnonzero((digits > 0).sum(axis=1) == done)
        values = np.full((len(rows), len(groups), len(setups)), np.inf)
        for number, test in enumerate(tests):
            free = (digits[rows, number] == 0) & _ready(data, test, digits[rows])
            here = rows[free]
            for place_of in range(len(setups)):
                then = place_of if test["setup"] is None else setups.index(test["setup"])
                change = 0 if then == place_of else data["setups"][setups[then]]["minutes"]
                spent = (test["minutes"] + change) * data["rate"] * left[here]
                shown = best[here + place[number], :, then]
                normal = best[here + 2 * place[number], :, then]
                values[free, :, place_of] = np.minimum(
                    values[free, :, place_of], spent + shown + normal
                )
        proof = data["recheck_minutes"] * data["rate"]
        _repair(values, left[rows], groups, proof, blocked[rows])
        best[rows] = values
    return float(best[0, 0, 0])


def _repair(values: Any, left: Any, groups: Any, proof: float, blocked: Any) -> None:
    """Let every state repair any group of the faults that are not yet ruled out.

    One of the group is repaired first, in the set-up of the state; the others after it.
    """
    everything = len(groups) - 1
    values[:, everything, :] = 0.0
    for group in sorted(range(everything), key=lambda out: -out.bit_count()):
        more = free = everything & ~group
        while more:
            cost = (groups[more] + proof) * left[:, group] + values[:, group | more, 0]
            barred = _barred(blocked[:, group], more)
            cost = np.where(barred, np.inf, cost[:, None])
            values[:, group, :] = np.minimum(values[:, group, :], cost)
            more = (more - 1) & free


def _barred(blocked: Any, group: int) -> Any:
    """Tell whether no order of repairs in a group is allowed, for each state and set-up."""
    faults = [fault for fault in range(blocked.shape[1]) if group >> fault & 1]
    barred = np.ones(blocked[:, 0].shape, bool)
    for first in faults:
        others = [blocked[:, fault, :1] for fault in faults if fault != first]
        barred &= np.any(
            [blocked[:, first], *np.broadcast_arrays(blocked[:, first], *others)[1:]], axis=0
        )
    return barred


def _blocked(data: Json, digits: Any, weights: Any, ruled_out: Any, setups: Any) -> Any:
    """Tell which parts may not be bought yet: by results, faults ruled out, fault and set-up.

    A test that shows the fault well is open, costs less than the repair with its proof, and
    would more likely than not come out normal without the fault; none was abnormal that shows
    it, and none was made that shows it nearly as well as the best.
    """
    tests, faults = data["tests"], data["faults"]
    blocked = np.zeros((len(digits), len(ruled_out), len(faults), len(setups)), bool)
    for number, fault in enumerate(faults):
        if fault["repair"]["price"] <= 0.0:
            continue
        shows = [test["observations"][0]["shows"].get(fault["id"], 0.0) for test in tests]
        well = [chance > 0.0 and chance >= min(max(shows), 0.5) for chance in shows]
        looked = np.zeros(len(digits), bool)
        others = weights.copy()
        others[:, number] = 0.0
        without = others @ (1 - ruled_out).T
        limit = _cost(data, fault) + data["recheck_minutes"] * data["rate"]
        for place, test in enumerate(tests):
            looked |= (digits[:, place] > 0) & (shows[place] >= 0.9 * max(shows) > 0.0)
            looked |= (digits[:, place] == 1) & (shows[place] > 0.0)
            if not well[place]:
                continue
            normal = (others * (1.0 - _shown(data, test))) @ (1 - ruled_out).T
            clears = (digits[:, place] == 0)[:, None] & (normal >= 0.5 * without)
            for at in range(len(setups)):
                cheap = _chain_minutes(data, test, digits, setups, at) * data["rate"] < limit
                blocked[:, :, number, at] |= clears & cheap[:, None]
        blocked[looked, :, number, :] = False
    return blocked


def _ready(data: Json, test: Json, digits: Any) -> Any:
    """Tell in which states everything was done that must come before a test."""
    names = [other["id"] for other in data["tests"]]
    ready = np.ones(len(digits), bool)
    for first in test.get("after", ()):
        ready &= digits[:, names.index(first)] > 0
    return ready


def _chain_minutes(data: Json, test: Json, digits: Any, setups: Any, at: int) -> Any:
    """Minutes of a test with what must come before it, in each state, from a set-up."""
    names = [other["id"] for other in data["tests"]]
    minutes = np.zeros(len(digits))
    stands = np.full(len(digits), at)
    chain = [data["tests"][names.index(first)] for first in test.get("after", ())]
    for one in [*chain, test]:
        due = (digits[:, names.index(one["id"])] == 0) | (one is test)
        then = at if one["setup"] is None else setups.index(one["setup"])
        change = 0.0 if one["setup"] is None else data["setups"][one["setup"]]["minutes"]
        wanted = np.full(len(digits), then) if one["setup"] is not None else stands
        minutes += due * (one["minutes"] + change * (wanted != stands))
        stands = np.where(due, wanted, stands)
    return minutes


def _weights(data: Json, digits: Any) -> Any:
    """Chance of each fault together with each set of results."""
    often = np.array([float(fault["often"]) for fault in data["faults"]])
    weights = np.tile(often / often.sum(), (len(digits), 1))
    for number, test in enumerate(data["tests"]):
        shown = _shown(data, test)
        weights *= np.array([np.ones_like(shown), shown, 1.0 - shown])[digits[:, number]]
    return weights


def _shown(data: Json, test: Json) -> Any:
    """Chance that a test comes out abnormal with each fault."""
    (seen,) = test["observations"]
    return np.array(
        [
            1.0 - (1.0 - seen["false_alarm"]) * (1.0 - seen["shows"].get(fault["id"], 0.0))
            for fault in data["faults"]
        ]
    )


def _cost(data: Json, fault: Json) -> float:
    return float(fault["repair"]["minutes"] * data["rate"] + fault["repair"]["price"])
