"""Simulated cars with hidden faults, taken through the plan, through guesswork, or page by page."""

from collections import Counter
from dataclasses import dataclass, field
from itertools import accumulate
from random import Random

from baycalc.isolation.inference.filtering import MISSED_RECHECK
from baycalc.isolation.json_reader import Json
from baycalc.isolation.model.bayes_net import RECHECK, Key, Model
from baycalc.isolation.planning.case import Case, open_case
from baycalc.isolation.planning.decide import Action
from baycalc.isolation.planning.policies import Policy, by_plan

MOST_ACTIONS = 80
"""Actions after which a job is given up."""


@dataclass(frozen=True)
class Choice:
    """An action with what it costs and what is looked at."""

    kind: str
    id: str
    keys: tuple[Key, ...] = ()
    minutes: float = 0.0
    price: float = 0.0
    setup: str | None = None


@dataclass
class Car:
    """A simulated car in the bay.

    Parameters
    ----------
    present : int
        Number of the set of faults that it has [-].
    changed : bool
        Whether a repair has met a fault [-].
    stages : list of dict
        Results in each state of the car [-].
    repairs : list of str
        Faults repaired so far [-].
    setup : str, optional
        The set-up it stands in.
    minutes, price : float
        Spent so far [min], [money].
    in_vain : int
        Repairs that met no fault [-].
    closed : bool
        Whether the job is closed.
    """

    present: int
    changed: bool = False
    stages: list[dict[Key, bool]] = field(default_factory=lambda: [{}])
    repairs: list[str] = field(default_factory=list)
    setup: str | None = None
    minutes: float = 0.0
    price: float = 0.0
    in_vain: int = 0
    closed: bool = False

    @property
    def key(self) -> tuple[object, ...]:
        """What a decision depends on."""
        facts = tuple(frozenset(stage.items()) for stage in self.stages)
        return facts, tuple(self.repairs), self.setup


@dataclass(frozen=True)
class Outcome:
    """What became of simulated cars.

    Parameters
    ----------
    cars : int
        How many [-].
    right : float
        Share of jobs closed with no fault left [-].
    minutes, money : float
        Mean for a job [min], [money].
    in_vain : float
        Mean number of repairs for a job that met no fault [-].
    tests : dict
        How often each test was done, for a job [-].
    """

    cars: int
    right: float
    minutes: float
    money: float
    in_vain: float
    tests: dict[str, float]


class Bay:
    """Works on simulated cars by one policy, and remembers each decision.

    Parameters
    ----------
    model : Model
        The model of the procedure [-].
    policy : callable
        What to do next in a case [-].
    seed : int
        Seed of the chances [-].
    """

    def __init__(self, model: Model, policy: Policy, seed: int) -> None:
        self.model = model
        self.policy = policy
        self.random = Random(seed)
        self.places = range(len(model.prior))
        self.summed_prior = list(accumulate(model.prior))
        self.choices: dict[tuple[object, ...], Choice] = {}
        self.done: Counter[str] = Counter()

    def arrive(self, present: int | None = None) -> Car:
        """Take a car in, with its codes read; without a set of faults one is drawn."""
        while True:
            place = present
            if place is None:
                place = self.random.choices(self.places, cum_weights=self.summed_prior)[0]
            car = Car(place)
            for code in self.model.network.codes:
                key = ("code", code)
                car.stages[0][key] = self._abnormal(car, key)
            if present is not None or not car.stages[0] or any(car.stages[0].values()):
                return car

    def work(self, car: Car) -> Car:
        """Take a car through the job."""
        for _ in range(MOST_ACTIONS):
            choice = self._choice(car)
            if choice.kind == "close":
                car.closed = True
                break
            self._act(car, choice)
        return car

    def _abnormal(self, car: Car, key: Key) -> bool:
        if key[0] == "test" and len(key) == 2:
            return False
        return self.random.random() >= self.model.normal(key)[car.present]

    def _choice(self, car: Car) -> Choice:
        key = car.key
        if key not in self.choices:
            case = open_case(self.model, history_of(car))
            self.choices[key] = _priced(case, self.policy(case))
        return self.choices[key]

    def _act(self, car: Car, choice: Choice) -> None:
        car.minutes += choice.minutes
        car.price += choice.price
        car.setup = choice.setup
        if choice.kind == "repair":
            self._repair(car, choice.id)
        elif choice.kind == "recheck":
            missed = MISSED_RECHECK
            if car.changed:
                missed = self.model.normal(RECHECK)[car.present]
            car.stages[-1][RECHECK] = self.random.random() >= missed
        else:
            self.done[choice.id] += 1
            for key in choice.keys:
                car.stages[-1][key] = self._abnormal(car, key)

    def _repair(self, car: Car, fault: str) -> None:
        moves = self.model.moves(self.model.number[fault]).get(car.present)
        car.repairs.append(fault)
        car.stages.append({})
        if moves is None:
            car.in_vain += 1
            return
        car.changed = True
        places = [place for place, _ in moves]
        car.present = self.random.choices(places, [chance for _, chance in moves])[0]


def simulate(model: Model, cars: int, seed: int = 0, policy: Policy | None = None) -> Outcome:
    """Take simulated cars through their jobs.

    Parameters
    ----------
    model : Model
        The model of the procedure [-].
    cars : int
        How many cars [-].
    seed : int
        Seed of the chances [-].
    policy : callable, optional
        `by_plan`, `by_guess` or `by_page`; the plan where none is given [-].

    Returns
    -------
    outcome : Outcome
        Shares and means [-].

    Notes
    -----
    Cars are drawn as the network says: with pairs by coincidence, knock-ons there from the
    start, and knock-ons that come after a repair. Where the network has codes, only cars that
    have stored one come in.
    """
    bay = Bay(model, policy or by_plan, seed)
    return summed(bay, [bay.work(bay.arrive()) for _ in range(cars)])


def summed(bay: Bay, cars: list[Car]) -> Outcome:
    """Sum up what became of cars."""
    count = len(cars)
    rate = bay.model.network.rate
    minutes = sum(car.minutes for car in cars) / count
    return Outcome(
        cars=count,
        right=sum(car.closed and car.present == 0 for car in cars) / count,
        minutes=minutes,
        money=minutes * rate + sum(car.price for car in cars) / count,
        in_vain=sum(car.in_vain for car in cars) / count,
        tests={test: times / count for test, times in bay.done.items()},
    )


def history_of(car: Car) -> list[Json]:
    """Give the events of a simulated job as plain JSON, state by state."""
    history: list[Json] = []
    for number, stage in enumerate(car.stages):
        history.extend(_event(key, abnormal) for key, abnormal in stage.items())
        if number < len(car.repairs):
            history.append({"repair": car.repairs[number]})
    return history


def _event(key: Key, abnormal: bool) -> Json:
    if key[0] == "code":
        return {"code": key[1], "stored": abnormal}
    if key == RECHECK:
        return {"recheck": "not cured" if abnormal else "cured"}
    if len(key) == 2:
        return {"test": key[1], "result": "done"}
    result = "shown" if abnormal else "not shown"
    return {"test": key[1], "observation": key[2], "result": result}


def _priced(case: Case, action: Action) -> Choice:
    model, job = case.model, case.job
    if action.kind == "repair":
        cost = model.repairs[model.number[action.id]]
        return Choice("repair", action.id, (), cost.minutes, cost.price)
    if action.kind == "test":
        test = model.tests[action.id]
        keys: list[Key] = [("test", test.id, item.id) for item in test.observations]
        minutes = test.minutes + job.change_minutes(test.setup)
        setup = job.setup if test.setup is None else test.setup
        return Choice("test", test.id, tuple(keys or [("test", test.id)]), minutes, 0.0, setup)
    minutes = model.network.recheck_minutes if action.kind == "recheck" else 0.0
    return Choice(action.kind, "", minutes=minutes)
