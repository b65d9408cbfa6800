"""Where a job stands: tests done, the set-up the car is in, minutes and money spent."""

from collections.abc import Iterable
from dataclasses import dataclass, field

from baycalc.isolation.inference.evidence import Entry
from baycalc.isolation.model.bayes_net import RECHECK, Key, Model


@dataclass
class Job:
    """What the history says of the work, without judging the faults.

    Parameters
    ----------
    model : Model
        The model of the procedure [-].
    setup : str, optional
        The set-up the car is in; None as it stands [-].
    done : set of str
        Tests done in this job, whenever [-].
    results : dict
        Newest entry of each observation, with the number of repairs before it [-].
    repaired : list of str
        Faults repaired, in their order [-].
    rechecked : str, optional
        Result of the recheck since the last repair: "cured" or "not cured" [-].
    minutes : float
        Minutes spent [min].
    price : float
        Paid for parts [money].
    """

    model: Model
    setup: str | None = None
    done: set[str] = field(default_factory=set)
    results: dict[Key, tuple[int, Entry]] = field(default_factory=dict)
    repaired: list[str] = field(default_factory=list)
    rechecked: str | None = None
    minutes: float = 0.0
    price: float = 0.0

    @property
    def money(self) -> float:
        """Minutes at their rate, and parts [money]."""
        return self.minutes * self.model.network.rate + self.price

    def add(self, entry: Entry) -> None:
        """Take in one event."""
        if entry.key == RECHECK:
            self.rechecked = "cured" if entry.likelihood[1] > 0.0 else "not cured"
            self.minutes += self.model.network.recheck_minutes
            self.setup = None
        elif entry.key[0] == "repair":
            self._repair(entry.key[1])
        elif entry.key[0] == "test":
            self._test(entry)

    def begun(self, test: str) -> bool:
        """Tell whether some result of a test belongs to the present state of the car."""
        return any(
            key[1] == test and when == len(self.repaired) and entry.done
            for key, (when, entry) in self.results.items()
        )

    def change_minutes(self, setup: str | None) -> float:
        """Give the minutes to change from the present set-up into another one [min]."""
        if setup is None or setup == self.setup:
            return 0.0
        return self.model.network.setups[setup]

    def _repair(self, name: str) -> None:
        cost = self.model.repairs[self.model.number[name]]
        self.minutes += cost.minutes
        self.price += cost.price
        self.repaired.append(name)
        self.rechecked = None
        self.setup = None

    def _test(self, entry: Entry) -> None:
        test = self.model.tests[entry.key[1]]
        if entry.done and (not self.begun(test.id) or self._entered_now(entry.key)):
            self.minutes += self.change_minutes(test.setup) + test.minutes
            self.setup = self.setup if test.setup is None else test.setup
            self.done.add(test.id)
            for key in [key for key in self.results if key[1] == test.id]:
                del self.results[key]
        self.results[entry.key] = (len(self.repaired), entry)

    def _entered_now(self, key: Key) -> bool:
        when, entry = self.results.get(key, (-1, None))
        return entry is not None and entry.done and when == len(self.repaired)


def job_of(model: Model, entries: Iterable[Entry]) -> Job:
    """Follow a job through its history."""
    job = Job(model)
    for entry in entries:
        job.add(entry)
    return job
