"""Which tests look for a fault, which results clear it, and what results forbid."""

from collections.abc import Iterable
from functools import lru_cache

from baycalc.isolation.inference.evidence import Event
from baycalc.isolation.model.bayes_net import Key, Model
from baycalc.isolation.model.hypotheses import mask_of

SHOWN_WELL = 0.5
"""Chance from which an observation shows a fault well enough to look for it [-]."""

NEARLY_BEST = 0.9
"""Part of the chance of its best observation from which another one clears a fault too [-]."""


CERTAIN = 0.95
"""Certainty from which a reading counts as one outcome [-]: a verdict that is not too close to call
has it (guard band of two standard uncertainties)."""

MODELS_KEPT = 4
"""Procedures of which the rules are kept ready [-]."""


class Confirmation:
    """For each observation of a procedure: the faults it looks for, clears and shows.

    Parameters
    ----------
    model : Model
        The model of the procedure.

    Attributes
    ----------
    looks_for, settles, clears : dict
        Masks of the faults that it shows well, of those that no other one shows much better (a
        normal result has looked for them), and of those that a normal result clears.
    shown : dict
        For each abnormal outcome of an observation the mask of the faults that bring it.
    stops : dict
        For each abnormal outcome the mask of the tests that it forbids.
    """

    def __init__(self, model: Model) -> None:
        self.model = model
        self.tests = [test.id for test in model.network.tests]
        self.keys = [
            Key("test", test.id, item.id)
            for test in model.network.tests
            for item in test.observations
        ]
        chances = {key: model.shows(key) for key in self.keys}
        best = [
            max((row.get(fault, 0.0) for row in chances.values()), default=0.0)
            for fault in range(len(model.network.faults))
        ]
        self.looks_for = {
            key: mask_of(f for f in row if f < len(best) and row[f] >= min(best[f], SHOWN_WELL))
            for key, row in chances.items()
        }
        self.settles = {
            key: mask_of(f for f in row if f < len(best) and row[f] >= NEARLY_BEST * best[f])
            for key, row in chances.items()
        }
        well = mask_of(fault for fault, chance in enumerate(best) if chance >= SHOWN_WELL)
        self.clears = {key: mask & well for key, mask in self.settles.items()}
        self.shown = {key: self._bands(key) for key in self.keys}
        self.stops = {key: self._stopped(key) for key in self.keys}

    def marks(self, results: Iterable[Event]) -> tuple[int, int]:
        """Say what results have looked for, and what they clear.

        Parameters
        ----------
        results : iterable of Event
            Newest result of each observation.

        Returns
        -------
        looked, cleared : int
            Masks of faults. A reading too close to call has looked for nothing: it proves
            neither.
        """
        looked = cleared = shown = 0
        for event in results:
            place = outcome(event)
            if place == 0:
                looked |= self.settles[event.key]
                cleared |= self.clears[event.key]
            elif place is not None:
                shown |= self.shown[event.key][place - 1]
        return looked | shown, cleared & ~shown

    def _bands(self, key: Key) -> list[int]:
        """Give the faults that each outcome shows; what restates the complaint shows none."""
        number, item = self.model.number, self.model.observation(key)
        return [
            mask_of(
                number[name]
                for name, chance in band.shows.items()
                if chance > 0.0 and not item.restates
            )
            for band in item.bands
        ]

    def _stopped(self, key: Key) -> list[int]:
        return [
            mask_of(
                place
                for place, test in enumerate(self.model.network.tests)
                if test.id != key.name and (test.id in band.stops or test.setup in band.stops)
            )
            for band in self.model.observation(key).bands
        ]


def outcome(event: Event) -> int | None:
    """Give the number of the outcome that a result states for sure; None where it states none."""
    if not event.done or not event.tells:
        return None
    sure = max(event.likelihood)
    others = [chance for chance in event.likelihood if chance < sure]
    if len(others) == len(event.likelihood) - 1 and max(others) <= (1.0 - CERTAIN) * sure:
        return event.likelihood.index(sure)
    return None


@lru_cache(maxsize=MODELS_KEPT)
def confirmation_of(model: Model) -> Confirmation:
    """Give the rules of a procedure; they are worked out once."""
    return Confirmation(model)
