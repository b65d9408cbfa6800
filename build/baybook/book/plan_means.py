"""What the plan spends on the faults of an exercise: worked out once, kept beside the sources."""

import hashlib
import json
from collections.abc import Iterator
from contextlib import suppress
from itertools import count
from pathlib import Path

import msgspec
from msgspec import Struct, field

from baybook.book.bound import BoundProcedure
from baycalc.exercise.reference_plan import CARS, ExerciseWorkshop
from baycalc.exercise.setting import Exercise
from baycalc.isolation.model.bayes_net import Model
from baycalc.isolation.model.read_network import from_data

FILE = "exercises.json"
"""Name of the file in the folder of the sources."""


class KeptMean(Struct, frozen=True):
    """What the plan spends on one set of faults; see `baycalc.exercise.reference_plan.PlanMean`."""

    says: str
    cars: int
    minutes: float
    money: float
    right: float
    left_out: tuple[int, ...] = ()
    """Of the seeds that it was worked out with, those on which the plan ends wrong."""


class _KeptMeans(Struct):
    means: dict[str, KeptMean] = field(default_factory=dict)


class PlanMeans:
    """The means of a book, read from its folder of sources and added to.

    Parameters
    ----------
    folder : Path
        The sources.
    """

    def __init__(self, folder: Path) -> None:
        self.path = folder / FILE
        self.kept: dict[str, KeptMean] = {}
        with suppress(FileNotFoundError, msgspec.MsgspecError):
            self.kept = msgspec.json.decode(self.path.read_bytes(), type=_KeptMeans).means

    def find(self, exercise: Exercise) -> KeptMean | None:
        """Return the mean of an exercise; nothing where it was not worked out yet."""
        return self.kept.get(mean_key(exercise))

    def work_out(self, exercise: Exercise, car: BoundProcedure, cars: int = CARS) -> KeptMean:
        """Return the mean of an exercise, worked out where it is not there; then it is kept.

        Parameters
        ----------
        exercise : Exercise
            The exercise; its seed does not count.
        car : BoundProcedure
            The procedure for its car.
        cars : int
            How many cars are worked [-]
        """
        found = self.find(exercise)
        if found is None:
            workshop = ExerciseWorkshop(Model(from_data(car.network)), exercise)
            mean = workshop.mean(cars)
            found = KeptMean(
                says=f"{exercise.procedure}/{exercise.vehicle}: {', '.join(exercise.faults)}",
                cars=mean.cars,
                minutes=round(mean.minutes, 1),
                money=round(mean.money, 2),
                right=mean.right,
                left_out=tuple(
                    seed for seed in range(1, cars + 1) if not workshop.ends_right(seed)
                ),
            )
            self.kept[mean_key(exercise)] = found
            self._write()
        return found

    def _write(self) -> None:
        text = msgspec.json.encode(_KeptMeans(self.kept), order="sorted")
        self.path.write_bytes(msgspec.json.format(text, indent=1))


def mean_key(exercise: Exercise) -> str:
    """Return a name for what the mean of an exercise depends on."""
    codes = None if exercise.codes is None else sorted(exercise.codes)
    text = json.dumps([exercise.network, sorted(exercise.faults), codes])
    return hashlib.sha256(text.encode()).hexdigest()[:16]


def good_seeds(exercise: Exercise, car: BoundProcedure, first: int) -> Iterator[int]:
    """Give the seeds from one on, without those on which the plan itself ends wrong.

    Parameters
    ----------
    exercise : Exercise
        The exercise; its seed does not count.
    car : BoundProcedure
        The procedure for its car.
    first : int
        The first seed [-]
    """
    workshop = ExerciseWorkshop(Model(from_data(car.network)), exercise)
    return (seed for seed in count(first) if workshop.ends_right(seed))
