"""Simulated cars with hidden faults, taken through the plan, through guesswork, or page by page."""

from collections import Counter
from dataclasses import dataclass, field
from itertools import accumulate
from random import Random

from baycalc.isolation.inference.evidence import Event
from baycalc.isolation.model.bayes_net import LOOK, RECHECK, Key, Model
from baycalc.isolation.model.fault_model import OUTSIDE
from baycalc.isolation.planning.case import Case, open_case
from baycalc.isolation.planning.decide import Action
from baycalc.isolation.planning.policies import Policy, by_plan
from baycalc.isolation.planning.state import AS_IT_CAME, Stand
from baycalc.isolation.report.drawn_car import after_repair, outcome_of, proof_fails

MOST_ACTIONS = 80
"""Actions after which a job is given up [-]."""


@dataclass(frozen=True)
class CostedAction:
    """An action with what it costs and what is looked at.

    Attributes
    ----------
    kind, id : str
        The action.
    keys : tuple of Key
        What is looked at.
    minutes, wait, price : float
        Work [min], standing [min], parts [money].
    stand : Stand
        How the car stands then.
    """

    kind: str
    id: str
    keys: tuple[Key, ...] = ()
    minutes: float = 0.0
    wait: float = 0.0
    price: float = 0.0
    stand: Stand = AS_IT_CAME


@dataclass
class Car:
    """A simulated car in the bay.

    Attributes
    ----------
    present : int
        Number of the set of faults that it has [-].
    changed : bool
        Whether a repair has met a fault.
    events : list of Event
        The job so far.
    minutes, wait, price : float
        Spent so far [min], [min], [money].
    bought, in_vain : int
        Parts bought, and repairs that met no fault [-].
    end : str
        "close" or "stop"; "" while it lasts.
    """

    present: int
    changed: bool = False
    events: list[Event] = field(default_factory=list)
    minutes: float = 0.0
    wait: float = 0.0
    price: float = 0.0
    bought: int = 0
    in_vain: int = 0
    end: str = ""

    def note(self, key: Key, place: int = 0, count: int = 2) -> None:
        """Add what was seen to the job."""
        likelihood = tuple(float(place == one) for one in range(count))
        self.events.append(Event(key, likelihood, place=len(self.events)))

    @property
    def key(self) -> tuple[object, ...]:
        """What a decision depends on."""
        return tuple((event.key, event.likelihood) for event in self.events)


@dataclass(frozen=True)
class WorkedCars:
    """What became of simulated cars.

    Attributes
    ----------
    cars : int
        How many [-].
    right : float
        Share of jobs closed with no fault left [-].
    honest : float
        Share of jobs that were handed on, with a fault outside or what no test shows [-].
    minutes, money : float
        Mean for a job [min], [money].
    in_vain, bought : float
        Mean number of repairs for a job that met no fault, and of parts bought [-].
    tests : dict
        How often each test was done, for a job [-].
    """

    cars: int
    right: float
    honest: float
    minutes: float
    money: float
    in_vain: float
    bought: float
    tests: dict[str, float]


class Workshop:
    """Works on simulated cars by one policy, and remembers each decision.

    Parameters
    ----------
    model : Model
        The model of the procedure.
    policy : callable
        What to do next in a case.
    seed : int
        Seed of the chances [-].
    believed : Model, optional
        The model by which is decided what to do next, where it is not that of the cars: the
        same faults and tests with other chances.
    """

    def __init__(
        self, model: Model, policy: Policy, seed: int, believed: Model | None = None
    ) -> None:
        self.model = model
        self.believed = believed or model
        self.policy = policy
        self.random = Random(seed)
        self.places = range(len(model.sets.masks))
        self.summed_prior = list(accumulate(model.prior(model.network.outside.share)))
        self.choices: dict[tuple[object, ...], CostedAction] = {}
        self.done: Counter[str] = Counter()

    def arrive(self, present: int | None = None) -> Car:
        """Take a car in, with all its codes read; without a set of faults one is drawn."""
        network = self.model.network
        while True:
            place = present
            if place is None:
                place = self.random.choices(self.places, cum_weights=self.summed_prior)[0]
            car = Car(place)
            for code in network.codes:
                key = Key("code", code)
                car.note(key, self.outcome(car, key))
            stored = any(event.likelihood[1] for event in car.events)
            if present is not None or not car.events or stored:
                return car

    def work(self, car: Car) -> Car:
        """Take a car through the job."""
        for _ in range(MOST_ACTIONS):
            choice = self._choice(car)
            if choice.kind in ("close", "stop"):
                car.end = choice.kind
                break
            self._act(car, choice)
        return car

    def outcome(self, car: Car, key: Key) -> int:
        """Give the number of the outcome that a car shows."""
        return outcome_of(self.model, car.present, key, self.random.random())

    def proof_fails(self, car: Car) -> bool:
        """Tell whether the proof shows that a car is not cured."""
        return proof_fails(self.model, car.present, car.changed, self.random.random())

    def after_repair(self, car: Car, fault: int) -> int:
        """Give the set of faults that a car has after a repair.

        Parameters
        ----------
        car : Car
            The car.
        fault : int
            Number of the fault whose repair is done [-].
        """
        return after_repair(self.model, car.present, fault, self.random.random())

    def _choice(self, car: Car) -> CostedAction:
        key = car.key
        if key not in self.choices:
            case = open_case(self.believed, car.events)
            self.choices[key] = _priced(case, self.policy(case))
        return self.choices[key]

    def _act(self, car: Car, choice: CostedAction) -> None:
        car.minutes += choice.minutes
        car.wait += choice.wait
        car.price += choice.price
        if choice.kind == "repair":
            self._repair(car, choice)
        elif choice.kind == "recheck":
            car.note(RECHECK, int(self.proof_fails(car)))
        elif choice.kind == "outside":
            found = self.outcome(car, LOOK)
            car.note(LOOK, found)
            if found:
                self._repair(car, choice)
        elif choice.kind == "opening":
            car.events.append(Event(Key("opening", choice.id), place=len(car.events)))
        else:
            self.done[choice.id] += 1
            for key in choice.keys:
                if key.observation:
                    count = len(self.model.columns(key))
                    car.note(key, self.outcome(car, key), count)
                else:
                    car.events.append(Event(key, place=len(car.events)))

    def _repair(self, car: Car, choice: CostedAction) -> None:
        car.events.append(Event(Key("repair", choice.id), place=len(car.events)))
        car.bought += choice.price > 0.0
        fault = self.model.number[choice.id]
        if car.present not in self.model.moves(fault):
            car.in_vain += 1
            return
        car.changed = True
        car.present = self.after_repair(car, fault)


def simulate(
    model: Model,
    cars: int,
    seed: int = 0,
    policy: Policy | None = None,
    present: int | None = None,
) -> WorkedCars:
    """Take simulated cars through their jobs.

    Parameters
    ----------
    model : Model
        The model of the procedure.
    cars : int
        How many cars [-].
    seed : int
        Seed of the chances [-].
    policy : callable, optional
        `by_plan`, `by_guess` or `by_page`; the plan where none is given.
    present : int, optional
        Number of the set of faults that each car has; drawn where none is given [-].

    Notes
    -----
    Cars are drawn as the network says: with pairs by coincidence, knock-ons there from the
    start, and knock-ons that come after a repair. Where the network has codes, only cars that
    have stored one come in.
    """
    workshop = Workshop(model, policy or by_plan, seed)
    return summed(workshop, [workshop.work(workshop.arrive(present)) for _ in range(cars)])


def summed(workshop: Workshop, cars: list[Car]) -> WorkedCars:
    """Sum up what became of cars."""
    count = len(cars)
    rate = workshop.model.network.rate
    minutes = sum(car.minutes for car in cars) / count
    outside = _outside_places(workshop.model)
    return WorkedCars(
        cars=count,
        right=sum(car.end == "close" and car.present == 0 for car in cars) / count,
        honest=sum(car.end == "stop" and car.present in outside for car in cars) / count,
        minutes=minutes,
        money=minutes * rate + sum(car.price for car in cars) / count,
        in_vain=sum(car.in_vain for car in cars) / count,
        bought=sum(car.bought for car in cars) / count,
        tests={test: times / count for test, times in workshop.done.items()},
    )


def _outside_places(model: Model) -> set[int]:
    """Give the sets with nothing in them that this procedure could have found."""
    return {0, model.sets.index[1 << model.number[OUTSIDE]]} if OUTSIDE in model.number else {0}


def _priced(case: Case, action: Action) -> CostedAction:
    model, job = case.model, case.job
    if action.kind in ("repair", "outside"):
        cost = model.repairs[model.number[action.id]]
        return CostedAction(action.kind, action.id, (), cost.minutes, 0.0, cost.price)
    if action.kind == "test":
        test = model.tests[action.id]
        keys = [Key("test", test.id, item.id) for item in test.observations]
        change = job.change(test.setup)
        return CostedAction(
            "test",
            test.id,
            tuple(keys or [Key("test", test.id)]),
            test.minutes + change.minutes,
            change.wait,
            test.price,
            change.stand,
        )
    if action.kind == "opening":
        minutes = sum(step.minutes for step in model.network.opening if step.id == action.id)
        return CostedAction("opening", action.id, minutes=minutes)
    minutes = model.network.recheck_minutes if action.kind == "recheck" else 0.0
    return CostedAction(action.kind, action.id, minutes=minutes)
