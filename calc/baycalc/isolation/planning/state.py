"""Where a job stands: tests done, how the car stands, minutes, money and waiting spent."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import NamedTuple

from baycalc.isolation.inference.evidence import Event, cured
from baycalc.isolation.model.bayes_net import LOOK, Key, Model
from baycalc.isolation.model.fault_model import Network

QUICK = 2.0
"""Minutes into a set-up when the car is cold, warm or raised for it already [min]; common
practice, no source."""

WAITING = 0.25
"""What an hour of standing costs against an hour of work [-]: a night of eight hours counts as two
hours of work; common practice, no source."""


class Cost(NamedTuple):
    """An expected cost and the minutes in it.

    Attributes
    ----------
    money : float
        Work, parts, waiting and the weight of hazards [money].
    minutes : float
        Work alone [min].
    """

    money: float
    minutes: float


class Stand(NamedTuple):
    """How the car stands.

    Attributes
    ----------
    setup : str, optional
        The set-up that it is in; None for none of them.
    state : str
        "cold", "warm" or "raised"; "" where nobody said.
    """

    setup: str | None = None
    state: str = ""


AS_IT_CAME = Stand()


@dataclass(frozen=True)
class Change:
    """What a change of the set-up takes.

    Attributes
    ----------
    minutes, wait, burden : float
        Work [min], standing [min], what its hazards weigh [min].
    stand : Stand
        How the car stands then.
    """

    minutes: float
    wait: float
    burden: float
    stand: Stand

    @property
    def weight(self) -> float:
        """All of it as minutes of work [min]."""
        return self.minutes + WAITING * self.wait + self.burden


def change_to(network: Network, stand: Stand, name: str | None) -> Change:
    """Say what it takes to bring a car into a set-up.

    Parameters
    ----------
    network : Network
        The network.
    stand : Stand
        How the car stands.
    name : str, optional
        The set-up; None where any will do.

    Returns
    -------
    change : Change
        Nothing where the car is in it; a car in the right state already need not wait for it.
    """
    if name is None or name == stand.setup:
        return Change(0.0, 0.0, 0.0, stand)
    setup = network.setups[name]
    then = Stand(name, setup.state or stand.state)
    if setup.state and setup.state == stand.state:
        return Change(min(setup.minutes, QUICK), 0.0, setup.burden, then)
    return Change(setup.minutes, setup.wait, setup.burden, then)


@dataclass
class JobState:
    """What the history says of the work, without judging the faults.

    Attributes
    ----------
    model : Model
        The model of the procedure.
    stand : Stand
        How the car stands.
    done : set of str
        Tests done in this job, whenever.
    times : dict
        How often each test was done since the last repair [-].
    results : dict
        Newest entry of each observation, with the number of repairs before it [-].
    skipped, opened, left : set of str
        Tests skipped, opening steps done or skipped, faults left on purpose.
    repaired : list of str
        Faults repaired, in their order.
    proof : str
        Result of the proof since the last repair: "cured", "not cured", or "".
    looked_outside : bool
        Whether a look outside found nothing.
    minutes, wait, price : float
        Work [min], standing [min], parts and what was used up [money].
    """

    model: Model
    stand: Stand = AS_IT_CAME
    done: set[str] = field(default_factory=set)
    times: dict[str, int] = field(default_factory=dict)
    results: dict[Key, tuple[int, Event]] = field(default_factory=dict)
    skipped: set[str] = field(default_factory=set)
    opened: set[str] = field(default_factory=set)
    left: set[str] = field(default_factory=set)
    repaired: list[str] = field(default_factory=list)
    proof: str = ""
    looked_outside: bool = False
    minutes: float = 0.0
    wait: float = 0.0
    price: float = 0.0

    @property
    def money(self) -> float:
        """Work and standing at their rate, and parts [money]."""
        return (self.minutes + WAITING * self.wait) * self.model.network.rate + self.price

    def add(self, event: Event) -> None:
        """Take in one event."""
        key, network = event.key, self.model.network
        if key.kind == "recheck":
            self.proof = "cured" if cured(event) else "not cured"
            self.minutes += network.recheck_minutes
            self.stand = AS_IT_CAME
        elif key.kind == "repair":
            self._repair(key.name)
        elif key.kind == "test":
            self._test(event)
        elif key == LOOK:
            self.looked_outside = event.likelihood[0] > 0.0
            if self.looked_outside:
                self._pay_for("outside")
        elif key.kind == "state":
            self.stand = Stand(None, key.name)
        elif key.kind == "opening":
            self._open(key.name, event.done)
        elif key.kind == "leave":
            self.left.add(key.name)

    def begun(self, test: str) -> bool:
        """Tell whether some result of a test belongs to the present state of the car."""
        return any(
            key.name == test and when == len(self.repaired) and entry.done
            for key, (when, entry) in self.results.items()
        )

    def change(self, setup: str | None) -> Change:
        """Say what it takes to bring the car into a set-up from where it stands."""
        return change_to(self.model.network, self.stand, setup)

    def _open(self, name: str, done: bool) -> None:
        self.opened.add(name)
        if done:
            self.minutes += sum(s.minutes for s in self.model.network.opening if s.id == name)

    def _pay_for(self, fault: str) -> None:
        repair = self.model.repairs[self.model.number[fault]]
        self.minutes += repair.minutes
        self.price += repair.price

    def _repair(self, name: str) -> None:
        self._pay_for(name)
        self.repaired.append(name)
        self.proof = ""
        self.times = {}
        self.stand = AS_IT_CAME

    def _test(self, event: Event) -> None:
        test = self.model.tests[event.key.name]
        if event.done and (not self.begun(test.id) or self._entered_now(event.key)):
            change = self.change(test.setup)
            self.minutes += change.minutes + test.minutes
            self.wait += change.wait
            self.price += test.price
            self.stand = change.stand
            self.done.add(test.id)
            self.times[test.id] = self.times.get(test.id, 0) + 1
            for key in [key for key in self.results if key.name == test.id]:
                del self.results[key]
        if event.done:
            self.skipped.discard(test.id)
        else:
            self.skipped.add(test.id)
        self.results[event.key] = (len(self.repaired), event)

    def _entered_now(self, key: Key) -> bool:
        when, entry = self.results.get(key, (-1, None))
        return entry is not None and entry.done and when == len(self.repaired)


def state_of(model: Model, events: Iterable[Event]) -> JobState:
    """Follow a job through its history."""
    job = JobState(model)
    for event in events:
        job.add(event)
    return job
