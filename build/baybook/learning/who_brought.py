"""Of what was seen: which fault brought it, in the shares that the network gives."""

import numpy as np

from baybook.learning.author_values import LEAK, Brings
from baybook.learning.smoother import Floats, Smoother
from baycalc.isolation.model.bayes_net import Key, Model


class WhoBrought:
    """For one piece of evidence: how likely each fault brought each outcome, if it was seen.

    Attributes
    ----------
    of : dict
        By fault: outcomes seen by outcomes brought by sets [-].
    chances : dict
        By fault: the chance of each outcome that it brings [-].

    Notes
    -----
    Noisy-MAX: the outcome that hides the others is seen. Where the j-th was seen, nobody brought
    one before it, and at least one brought it.
    """

    def __init__(self, smoother: Smoother, key: Key, of_key: Brings) -> None:
        column = smoother.column(key)
        outcomes, sets = column.shape
        none_after = np.vstack([np.ones(sets), 1.0 - np.cumsum(column[1:], axis=0)])
        self.of: dict[str, Floats] = {}
        self.chances: dict[str, list[float]] = {}
        for fault in of_key:
            chances = _chances(smoother.model, key, fault)
            held = np.ones(sets) if fault == LEAK else smoother.held(fault)
            spared = 1.0 - np.concatenate([[0.0], np.cumsum(chances)])
            without = [
                np.divide(none, left, out=np.zeros(sets), where=left * none > 0)
                for none, left in zip(none_after, spared, strict=True)
            ]
            of = np.zeros((outcomes, len(chances), sets))
            for seen in range(1, outcomes):
                whole = none_after[seen - 1] - none_after[seen]
                for brought in range(seen, outcomes):
                    part = without[seen - 1] - (without[seen] if brought > seen else 0.0)
                    of[seen, brought - 1] = held * np.divide(
                        chances[brought - 1] * part, whole, out=np.zeros(sets), where=whole > 0
                    )
            self.of[fault] = np.clip(of, 0.0, 1.0)
            self.chances[fault] = [float(chance) for chance in chances]


def _chances(model: Model, key: Key, fault: str) -> Floats:
    """Give the chance of a fault alone, or of none, to bring each abnormal outcome [-]."""
    rows, leaks = model.rows(key)
    if fault == LEAK:
        return np.array(leaks)
    number = model.number[fault]
    return np.array([row.get(number, 0.0) for row in rows])
