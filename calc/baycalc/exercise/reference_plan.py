"""The plan on the cars of an exercise: what it spends on average, and seeds on which it fails."""

from dataclasses import dataclass, replace

from baycalc.exercise.hidden_car import HiddenCar
from baycalc.exercise.setting import Exercise
from baycalc.isolation.inference.evidence import ABNORMAL, Event
from baycalc.isolation.model.bayes_net import LOOK, Key, Model
from baycalc.isolation.model.fault_model import OUTSIDE
from baycalc.isolation.planning.policies import Policy, by_plan
from baycalc.isolation.report.simulation import Car, Workshop

CARS = 60
"""Cars that are worked for a mean [-]."""


@dataclass(frozen=True)
class PlanMean:
    """What the plan spends on a set of faults.

    Attributes
    ----------
    cars : int
        Cars it was worked out with [-].
    minutes, money : float
        Mean for a car on which the plan ends right: others are not given out [min], [money].
    right : float
        Share of cars that ended right [-].
    """

    cars: int
    minutes: float
    money: float
    right: float


class ExerciseWorkshop(Workshop):
    """Works on the cars of one exercise, each drawn by its own seed.

    Parameters
    ----------
    model : Model
        The model of the procedure.
    exercise : Exercise
        What is set; its seed does not count.
    policy : callable
        What to do next in a case.
    """

    def __init__(self, model: Model, exercise: Exercise, policy: Policy = by_plan) -> None:
        super().__init__(model, policy, 0)
        self.exercise = exercise
        self.hidden: HiddenCar = HiddenCar(model, exercise)

    def take_in(self, seed: int) -> Car:
        """Take in the car of a seed, with its codes read and its complaint told.

        Parameters
        ----------
        seed : int
            The seed [-].
        """
        self.hidden = HiddenCar(self.model, replace(self.exercise, seed=seed))
        car = Car(self.hidden.present)
        for code in self.model.network.codes:
            car.note(Key("code", code), int(code in self.hidden.codes))
        for name in self.hidden.complaints:
            key = Key("complaint", name)
            car.events.append(Event(key, ABNORMAL, place=len(car.events)))
        return car

    def ends_right(self, seed: int) -> bool:
        """Tell whether the plan ends right on the car of a seed.

        Parameters
        ----------
        seed : int
            The seed [-].
        """
        return self.is_right(self.work(self.take_in(seed)))

    def is_right(self, car: Car) -> bool:
        """Tell whether a job that was worked ended as it should."""
        if car.end == "stop":
            outside = self.model.number.get(OUTSIDE)
            good = {0} if outside is None else {0, self.model.sets.index[1 << outside]}
            return car.present in good and car.bought == 0
        return car.end == "close" and car.present == 0

    def mean(self, cars: int = CARS) -> PlanMean:
        """Give what is spent on average, over the seeds from 1.

        Parameters
        ----------
        cars : int
            How many cars [-].
        """
        worked = [self.work(self.take_in(seed)) for seed in range(1, cars + 1)]
        right = [car for car in worked if self.is_right(car)]
        counted = right or worked
        minutes = sum(car.minutes for car in counted) / len(counted)
        price = sum(car.price for car in counted) / len(counted)
        money = minutes * self.model.network.rate + price
        return PlanMean(cars, minutes, money, len(right) / cars)

    def outcome(self, car: Car, key: Key) -> int:  # noqa: ARG002
        """Give the number of the outcome that the car in hand shows."""
        return int(self.hidden.look_outside()) if key == LOOK else self.hidden.shows(key)

    def proof_fails(self, car: Car) -> bool:  # noqa: ARG002
        """Tell whether the proof shows that the car in hand is not cured."""
        return self.hidden.proof_fails()

    def after_repair(self, car: Car, fault: int) -> int:  # noqa: ARG002
        """Give the set of faults that the car in hand has after a repair."""
        self.hidden.repair(self.model.ids[fault])
        return self.hidden.present
