"""A car with hidden faults whose answers are drawn by a hash: the same, whoever asks and when."""

import hashlib
from collections.abc import Iterable
from itertools import accumulate

from baycalc.exercise.setting import NO_FAULT, Exercise, NoExercise
from baycalc.isolation.model.bayes_net import LOOK, Key, Model
from baycalc.isolation.model.hypotheses import mask_of
from baycalc.isolation.report.drawn_car import after_repair, outcome_of, proof_fails

ATTEMPTS = 1000
"""Draws of the codes after which the likeliest one is taken as stored [-]."""


def drawn(seed: int, *what: str) -> float:
    """Draw a chance that depends on the seed and on what is asked, and on nothing else.

    Parameters
    ----------
    seed : int
        The seed [-].
    what : str
        What is asked.

    Returns
    -------
    float
        Chance, from 0 up to 1 [-]
    """
    digest = hashlib.sha256("\x1f".join((str(seed), *what)).encode()).digest()
    return int.from_bytes(digest[:7], "big") / 2**56


def drawn_faults(model: Model, seed: int) -> tuple[str, ...]:
    """Draw the faults of a car that comes in, by a seed.

    Parameters
    ----------
    model : Model
        The model of the procedure.
    seed : int
        The seed [-].

    Notes
    -----
    Where the network has codes, a car comes in only with one stored, as in the simulation.
    """
    summed = list(accumulate(model.prior(model.network.outside.share)))
    place = 0
    for attempt in range(ATTEMPTS):
        chance = drawn(seed, "arrival", str(attempt)) * summed[-1]
        place = min(sum(chance >= whole for whole in summed), len(summed) - 1)
        if not model.network.codes or _stored(model, seed, place, attempt):
            break
    return _names(model, place) or (NO_FAULT,)


class HiddenCar:
    """A car of an exercise.

    Parameters
    ----------
    model : Model
        The model of the procedure.
    exercise : Exercise
        What is set.

    Attributes
    ----------
    present : int
        Number of the set of faults that it has [-].
    changed : bool
        Whether a repair has met a fault.
    codes, complaints : tuple of str
        What it comes in with.

    Raises
    ------
    NoExercise
        Where the procedure has no such fault or code.
    """

    def __init__(self, model: Model, exercise: Exercise) -> None:
        self.model = model
        self.seed = exercise.seed
        self.present = _place_of(model, exercise)
        self.changed = False
        self.codes = self._codes(exercise)
        self.complaints = tuple(
            name
            for name in model.network.complaints
            if outcome_of(
                model,
                self.present,
                Key("complaint", name),
                drawn(self.seed, self.state, "complaint", name),
            )
        )

    @property
    def members(self) -> tuple[str, ...]:
        """The faults that it has now."""
        return _names(self.model, self.present)

    @property
    def state(self) -> str:
        """Name of the state of the car, whatever the order of the faults in the book."""
        return "+".join(sorted(self.members))

    @property
    def is_good(self) -> bool:
        """Whether nothing is wrong with it."""
        return self.present == 0

    def shows(self, key: Key) -> int:
        """Give the number of the outcome that an observation has now."""
        chance = self.chance("test", key.name, key.observation)
        return outcome_of(self.model, self.present, key, chance)

    def chance(self, *what: str) -> float:
        """Draw a chance for something seen in the present state [-]."""
        return drawn(self.seed, self.state, *what)

    def repair(self, fault: str) -> bool:
        """Do a repair; tell whether it met a fault."""
        number = self.model.number[fault]
        if self.present not in self.model.moves(number):
            return False
        chance = self.chance("repair", fault)
        self.present = after_repair(self.model, self.present, number, chance)
        self.changed = True
        return True

    def proof_fails(self) -> bool:
        """Tell whether the proof shows that it is not cured."""
        chance = self.chance("proof", "changed" if self.changed else "as it came")
        return proof_fails(self.model, self.present, self.changed, chance)

    def look_outside(self) -> bool:
        """Tell whether a look outside finds a cause there."""
        return bool(outcome_of(self.model, self.present, LOOK, self.chance("outside")))

    def _codes(self, exercise: Exercise) -> tuple[str, ...]:
        if exercise.codes is not None:
            for code in exercise.codes:
                if code not in self.model.network.codes:
                    raise NoExercise(f"The procedure has no code {code} on this car.")
            return exercise.codes
        for attempt in range(ATTEMPTS):
            stored = _stored(self.model, self.seed, self.present, attempt)
            if stored:
                return stored
        likeliest = max(
            self.model.network.codes,
            key=lambda code: self.model.columns(Key("code", code))[1][self.present],
            default="",
        )
        return (likeliest,) if likeliest else ()


def _stored(model: Model, seed: int, present: int, attempt: int) -> tuple[str, ...]:
    """Draw the codes that are stored, without those that another one keeps away."""
    state = "+".join(sorted(_names(model, present)))
    found = [
        code
        for code in model.network.codes
        if outcome_of(
            model, present, Key("code", code), drawn(seed, state, "code", str(attempt), code)
        )
    ]
    hidden = {other for code in found for other in model.network.codes[code].suppresses}
    return tuple(code for code in found if code not in hidden)


def _names(model: Model, present: int) -> tuple[str, ...]:
    return tuple(model.ids[fault] for fault in model.sets.members[present])


def _place_of(model: Model, exercise: Exercise) -> int:
    faults: Iterable[str] = exercise.hidden
    for fault in faults:
        if fault not in model.number:
            raise NoExercise(f"The procedure has no fault {fault} on this car.")
    place = model.sets.index.get(mask_of(model.number[fault] for fault in faults))
    if place is None:
        raise NoExercise("The procedure does not weigh so many faults at once.")
    return place
