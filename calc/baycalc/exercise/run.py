"""One exercise while it is worked: the acts of the student, and what the car says to each."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from baycalc.exercise.hidden_car import HiddenCar
from baycalc.exercise.setting import Exercise
from baycalc.exercise.shown_reading import shown_reading
from baycalc.isolation.inference.evidence import Event
from baycalc.isolation.inference.posterior import posterior, suspects_of
from baycalc.isolation.model.bayes_net import Key, Model
from baycalc.isolation.model.fault_model import OUTSIDE
from baycalc.isolation.planning.confirmation import confirmation_of
from baycalc.isolation.planning.state import JobState, state_of
from baycalc.isolation.read_events import read_events
from baycalc.isolation.report.explanation import CHANGE
from baycalc.measurement.reading import judge_reading
from baycalc.text import capital

Json = dict[str, Any]

MOST_ACTS = 300
"""Acts after which an exercise takes no more [-]."""

_WORDS = {"pass": "normal", "fail": "abnormal"}


class BadAct(ValueError):
    """An act that cannot be done; says why in one sentence."""


@dataclass(frozen=True)
class CarAnswer:
    """What one observation showed.

    Attributes
    ----------
    observation, asked : str
        Its id, and what was asked or read.
    text, unit : str
        The answer in words, or the figure with its unit.
    band : str
        Id of the outcome; "normal" where it is.
    is_reading : bool
        Whether it is a figure.
    verdict : dict
        What the judging of a reading said; empty for a question.
    likelihood : tuple of float
        Likelihood of the reading, bad and good [-].
    """

    observation: str
    asked: str
    text: str
    unit: str
    band: str
    is_reading: bool
    verdict: Json = field(default_factory=dict)
    likelihood: tuple[float, ...] = ()


@dataclass(frozen=True)
class Done:
    """One act with what came of it.

    Attributes
    ----------
    kind, id : str
        The act: "test", "repair", "outside", "proof", "help", "close", "stop".
    shown : tuple of CarAnswer
        What a test showed.
    good : bool
        Whether a repair met a fault, a look found a cause, a proof passed.
    told : bool
        Whether a test changed what is believed.
    spoken : bool
        Whether a test had spoken for a part before it was bought.
    bought : bool
        Whether a part was bought.
    danger : str
        What was dangerous in it, in a sentence.
    minutes, wait, price : float
        What it took [min], [min], [money].
    cured : tuple of str
        The faults that a repair took away.
    """

    kind: str
    id: str = ""
    shown: tuple[CarAnswer, ...] = ()
    good: bool = False
    told: bool = True
    spoken: bool = True
    bought: bool = False
    danger: str = ""
    minutes: float = 0.0
    wait: float = 0.0
    price: float = 0.0
    cured: tuple[str, ...] = ()


class ExerciseRun:
    """Works an exercise, act by act.

    Parameters
    ----------
    model : Model
        The model of the procedure.
    exercise : Exercise
        What is set.
    readings : Mapping
        By ``test.observation`` what `judge_reading` is asked, without the reading.
    weighs : bool
        Whether each test is asked what it told; without that an act takes less time.

    Attributes
    ----------
    history : list of dict
        The job as the plan reads it.
    done : list of Done
        What was done.
    """

    def __init__(
        self,
        model: Model,
        exercise: Exercise,
        readings: Mapping[str, Json],
        weighs: bool = True,
    ) -> None:
        self.model = model
        self.weighs = weighs
        self.exercise = exercise
        self.readings = readings
        self.car = HiddenCar(model, exercise)
        self.faults = self.car.members
        self.done: list[Done] = []
        self.history: list[Json] = [
            *({"code": code, "state": "stored"} for code in self.car.codes),
            *([{"codes": "all"}] if model.network.codes else []),
            *({"complaint": name} for name in self.car.complaints),
            *({"opening": step.id, "result": "done"} for step in model.network.opening),
        ]
        self.job: JobState = state_of(model, self.events)

    @property
    def ended(self) -> str:
        """How it ended: "close", "stop", or "" while it lasts."""
        last = self.done[-1].kind if self.done else ""
        return last if last in ("close", "stop") else ""

    @property
    def events(self) -> list[Event]:
        """The job as events."""
        return read_events(self.model, self.history)[0]

    def act(self, act: Mapping[str, Any]) -> Done:
        """Do one act.

        Raises
        ------
        BadAct
            Where it cannot be done.
        """
        if self.ended:
            raise BadAct("The exercise has ended.")
        if len(self.done) >= MOST_ACTS:
            raise BadAct(f"An exercise takes no more than {MOST_ACTS} acts.")
        kind, name = act.get("do"), act.get("id", "")
        ways: dict[str, Callable[[], Done]] = {
            "test": lambda: self._test(name, act.get("units", "us")),
            "repair": lambda: self._repair(name),
            "outside": self._outside,
            "proof": self._proof,
            "help": self._help,
            "close": self._close,
            "stop": lambda: Done("stop"),
        }
        if kind not in ways:
            raise BadAct(f"Expected one of {', '.join(ways)}; got {kind!r}.")
        before = self.job
        done = ways[kind]()
        spent = self.job = state_of(self.model, self.events)
        self.done.append(
            Done(
                **{
                    **vars(done),
                    "minutes": spent.minutes - before.minutes,
                    "wait": spent.wait - before.wait,
                    "price": spent.price - before.price,
                }
            )
        )
        return self.done[-1]

    def _shares(self) -> dict[str, float]:
        return suspects_of(posterior(self.model, self.events)).marginals if self.weighs else {}

    def _test(self, name: object, system: object) -> Done:
        if not isinstance(name, str) or name not in self.model.tests:
            raise BadAct(f"There is no test {name!r} on this car.")
        if system not in ("us", "metric"):
            raise BadAct(f"Expected the units us or metric, got {system!r}.")
        danger = self._danger(name)
        before = self._shares()
        test = self.model.tests[name]
        shown = tuple(self._shown(name, item.id, system) for item in test.observations)
        for each in shown:
            result: Any = {"likelihood": list(each.likelihood)} if each.likelihood else each.band
            self.history.append({"test": name, "observation": each.observation, "result": result})
        if not shown:
            self.history.append({"test": name, "result": "done"})
        told = any(
            abs(share - before.get(fault, 0.0)) >= CHANGE for fault, share in self._shares().items()
        )
        return Done("test", name, shown, told=told, danger=danger)

    def _shown(self, test: str, observation: str, system: str) -> CarAnswer:
        key = Key("test", test, observation)
        item = self.model.observation(key)
        place = self.car.shows(key)
        band = item.bands[place - 1] if place else None
        asked = self.readings.get(f"{test}.{observation}")
        if asked and len(item.bands) == 1:
            reading = shown_reading(
                asked, not place, lambda what: self.car.chance(what, test, observation), system
            )
            answer = judge_reading({**asked, "reading": reading.text, "unit": reading.unit})
            if "error" not in answer:
                verdict = answer["verdict"]
                said = _WORDS.get(verdict["outcome"], "")
                likelihood = tuple(answer["likelihood"])
                return CarAnswer(
                    observation,
                    item.says,
                    reading.text,
                    reading.unit,
                    said,
                    True,
                    verdict,
                    likelihood,
                )
        text = (band.says or band.id) if band else (item.normal or "normal")
        return CarAnswer(
            observation, item.says, capital(text), "", band.id if band else "normal", False
        )

    def _danger(self, name: str) -> str:
        """Say why a test is dangerous now: another comes first, or a result forbids it."""
        test = self.model.tests[name]
        missing = [other for other in test.after if other not in self.job.done]
        if missing:
            first = self.model.tests[missing[0]].title
            return f"“{test.title}” was done before “{first}”, which protects a part or a person."
        rules = confirmation_of(self.model)
        number = rules.tests.index(name)
        for key, (when, event) in self.job.results.items():
            if when != len(self.job.repaired) or not event.done or key not in rules.stops:
                continue
            for place, stopped in enumerate(rules.stops[key], 1):
                sure = max(event.likelihood)
                if stopped >> number & 1 and event.likelihood[place] >= sure > event.likelihood[0]:
                    shown = self.model.tests[key.name].title
                    return f"“{test.title}” was done after “{shown}” had forbidden it."
        return ""

    def _repair(self, name: object) -> Done:
        if not isinstance(name, str) or name not in self.model.number or name == OUTSIDE:
            raise BadAct(f"There is no repair {name!r} on this car.")
        number = self.model.number[name]
        price = self.model.repairs[number].price
        spoken = price <= 0.0 or self._has_spoken(number)
        before = self.car.members
        met = self.car.repair(name)
        cured = (
            tuple(fault for fault in before if number_cured(self.model, number, fault))
            if met
            else ()
        )
        self.history.append({"repair": name})
        return Done("repair", name, good=met, spoken=spoken, bought=price > 0.0, cured=cured)

    def _has_spoken(self, number: int) -> bool:
        """Tell whether a test looked for a fault that a repair cures, and did not clear it."""
        rules = confirmation_of(self.model)
        results = [
            event
            for key, (_, event) in self.job.results.items()
            if key.observation and event.done and event.tells
        ]
        looked, cleared = rules.marks(results)
        return any((looked & ~cleared) >> fault & 1 for fault in self.model.cures[number])

    def _outside(self) -> Done:
        if OUTSIDE not in self.model.number:
            raise BadAct("This procedure knows no cause outside.")
        found = self.car.look_outside()
        if found:
            self.car.repair(OUTSIDE)
        self.history.append({"outside": "found" if found else "not found"})
        return Done("outside", OUTSIDE, good=found, cured=(OUTSIDE,) if found else ())

    def _proof(self) -> Done:
        passed = not self.car.proof_fails()
        self.history.append({"recheck": "cured" if passed else "not cured"})
        return Done("proof", good=passed)

    def _help(self) -> Done:
        if self.exercise.help != "on-demand":
            raise BadAct("In this exercise there is no help to ask for.")
        return Done("help")

    def _close(self) -> Done:
        if not any(done.kind == "proof" for done in self.done):
            raise BadAct("A job is closed after its proof: do the proof first, or hand the job on.")
        return Done("close", good=self.job.proof == "cured")


def number_cured(model: Model, number: int, fault: str) -> bool:
    """Tell whether the repair of a fault cures another one.

    Parameters
    ----------
    model : Model
        The model of the procedure.
    number : int
        Number of the fault that is repaired [-].
    fault : str
        The other one.
    """
    return model.number[fault] in model.cures[number]
