"""The best that can be done on a small procedure: every order of tests and repairs is tried."""

from typing import Any

import numpy as np

Json = dict[str, Any]


def optimum(data: Json) -> float:
    """Least expected cost for one fault among few, by dynamic programming over all states.

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
    best = np.full((len(digits), len(groups), len(setups)), np.inf)
    for done in range(len(tests), -1, -1):
        rows = np.flatnonzero((digits > 0).sum(axis=1) == done)
        values = np.full((len(rows), len(groups), len(setups)), np.inf)
        for number, test in enumerate(tests):
            free = digits[rows, number] == 0
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
        _repair(values, left[rows], groups, data["recheck_minutes"] * data["rate"])
        best[rows] = values
    return float(best[0, 0, 0])


def _repair(values: Any, left: Any, groups: Any, proof: float) -> None:
    """Let every state repair any group of the faults that are not yet ruled out."""
    everything = len(groups) - 1
    values[:, everything, :] = 0.0
    for group in sorted(range(everything), key=lambda out: -out.bit_count()):
        more = free = everything & ~group
        while more:
            cost = (groups[more] + proof) * left[:, group] + values[:, group | more, 0]
            values[:, group, :] = np.minimum(values[:, group, :], cost[:, None])
            more = (more - 1) & free


def _weights(data: Json, digits: Any) -> Any:
    """Chance of each fault together with each set of results."""
    often = np.array([float(fault["often"]) for fault in data["faults"]])
    weights = np.tile(often / often.sum(), (len(digits), 1))
    for number, test in enumerate(data["tests"]):
        (seen,) = test["observations"]
        shown = np.array(
            [
                1.0 - (1.0 - seen["false_alarm"]) * (1.0 - seen["shows"].get(fault["id"], 0.0))
                for fault in data["faults"]
            ]
        )
        weights *= np.array([np.ones_like(shown), shown, 1.0 - shown])[digits[:, number]]
    return weights


def _cost(data: Json, fault: Json) -> float:
    return float(fault["repair"]["minutes"] * data["rate"] + fault["repair"]["price"])
