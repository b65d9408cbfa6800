"""An exercise as it is set: the procedure, the car, the seed, and what is hidden."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

NO_FAULT = "none"
"""In place of a fault: nothing is wrong with the car."""

HELPS = ("off", "on-demand", "on")
"""Whether the plan is shown: never, when it is asked for (which is counted), always."""

MOST_FAULTS = 3
"""Most faults of one car, as the belief weighs them [-]."""


class NoExercise(ValueError):
    """What was given is no exercise; says why in one sentence."""


@dataclass(frozen=True)
class Exercise:
    """An exercise as it is set.

    Attributes
    ----------
    procedure, vehicle : str
        Ids of the procedure and of the car.
    network : str
        Name of the network with which it was set.
    seed : int
        What all its chances are drawn from [-].
    faults : tuple of str
        The hidden faults; `NO_FAULT` alone for a good car, "outside" for a cause elsewhere.
    codes : tuple of str, optional
        The codes that are stored; drawn by the seed where they are not given.
    help : str
        One of `HELPS`.
    minutes, money : float
        What the plan spends on these faults on average [min], [money].
    name : str
        Its name in a lesson; empty where it stands alone.
    """

    procedure: str
    vehicle: str
    network: str
    seed: int
    faults: tuple[str, ...]
    codes: tuple[str, ...] | None = None
    help: str = "off"
    minutes: float = 0.0
    money: float = 0.0
    name: str = ""

    @property
    def hidden(self) -> tuple[str, ...]:
        """The faults that are there."""
        return () if self.faults == (NO_FAULT,) else self.faults


def exercise_data(exercise: Exercise) -> dict[str, Any]:
    """Give an exercise as plain JSON."""
    return {
        "procedure": exercise.procedure,
        "vehicle": exercise.vehicle,
        "network": exercise.network,
        "seed": exercise.seed,
        "faults": list(exercise.faults),
        "codes": None if exercise.codes is None else list(exercise.codes),
        "help": exercise.help,
        "minutes": round(exercise.minutes, 1),
        "money": round(exercise.money, 2),
        "name": exercise.name,
    }


def read_exercise(data: object) -> Exercise:
    """Read an exercise from plain JSON.

    Raises
    ------
    NoExercise
        Where a field is missing or wrong.
    """
    if not isinstance(data, Mapping):
        raise NoExercise("An exercise is an object with procedure, vehicle, seed and faults.")
    texts = {name: data.get(name, "") for name in ("procedure", "vehicle", "network", "name")}
    for name, text in texts.items():
        if not isinstance(text, str):
            raise NoExercise(f"{name}: expected a text, got {text!r}.")
    seed, codes, faults = data.get("seed"), data.get("codes"), _names(data, "faults")
    if not isinstance(seed, int) or isinstance(seed, bool):
        raise NoExercise(f"seed: expected a whole number, got {seed!r}.")
    if not 1 <= len(faults) <= MOST_FAULTS:
        raise NoExercise(f"faults: expected one to {MOST_FAULTS} of them, got {len(faults)}.")
    if data.get("help") not in HELPS:
        raise NoExercise(f"help: expected one of {', '.join(HELPS)}; got {data.get('help')!r}.")
    return Exercise(
        **texts,
        seed=seed,
        faults=faults,
        codes=None if codes is None else _names(data, "codes"),
        help=data["help"],
        minutes=_number(data, "minutes"),
        money=_number(data, "money"),
    )


def _names(data: Mapping[str, Any], name: str) -> tuple[str, ...]:
    found = data.get(name)
    if isinstance(found, list) and all(isinstance(each, str) for each in found):
        return tuple(found)
    raise NoExercise(f"{name}: expected a list of names, got {found!r}.")


def _number(data: Mapping[str, Any], name: str) -> float:
    found = data.get(name, 0.0)
    if isinstance(found, int | float) and not isinstance(found, bool) and 0 <= found < 1e9:
        return float(found)
    raise NoExercise(f"{name}: expected a number of zero or more, got {found!r}.")
