"""Exercises of the story of valve, pump and relay, with one test that reads a gauge."""

from collections.abc import Iterable, Mapping
from typing import Any

from tests.calc.isolation.networks import Json, check, fault, network

from baycalc.exercise.best_order import best_order
from baycalc.exercise.hidden_car import HiddenCar, drawn_faults
from baycalc.exercise.marking import Marks, marks_of
from baycalc.exercise.run import ExerciseRun
from baycalc.exercise.setting import Exercise
from baycalc.isolation.model.bayes_net import Key, Model
from baycalc.isolation.model.read_network import from_data

HOLD = {
    "kind": "pressure",
    "reference": "vacuum",
    "low": 60_000.0,
    "high": None,
    "gauge": {"grade": "B", "span": 101_000.0, "resolution": 500.0},
    "units": ["inHg", "kPa"],
    "scales": False,
}
READINGS: Mapping[str, Json] = {"hold.seen": HOLD}


def story(**more: Any) -> Json:
    """A valve that ruins the pump; a hose; a test by gauge; one that must come first. Invented."""
    return (
        network(
            [
                fault("valve", 3, 30, 90, sets={"P1": 0.6}, leads_to={"pump": {"chance": 0.5}}),
                fault("pump", 4, 60, 250, sets={"P1": 0.9}),
                fault("hose", 5, 10, 6, sets={"P1": 0.8}),
            ],
            [
                check("hold", 5, {"valve": 0.95}),
                check("spin", 8, {"pump": 0.97}, after=["hold"]),
                check("see", 2, {"hose": 0.9}),
            ],
            elsewhere=0.5,
            codes={"P1": {"false_alarm": 0.001}},
            opening=[{"id": "battery", "title": "Battery", "minutes": 1}],
            recheck_minutes=10,
        )
        | more
    )


def model() -> Model:
    return Model(from_data(story()))


def exercise(*faults: str, seed: int = 1, **more: Any) -> Exercise:
    given = {"minutes": 60.0, "money": 200.0} | more
    return Exercise("air", "car", "net", seed, faults or ("none",), **given)


def begun(*faults: str, seed: int = 1, **more: Any) -> ExerciseRun:
    return ExerciseRun(model(), exercise(*faults, seed=seed, **more), READINGS)


def work(run: ExerciseRun, *acts: str) -> ExerciseRun:
    """Do acts such as ``test see``, ``repair hose``, ``proof``, ``close``."""
    for act in acts:
        kind, _, name = act.partition(" ")
        run.act({"do": kind, "id": name})
    return run


def worked_with_key(model: Model, readings: Mapping[str, Json], wanted: Exercise) -> Marks:
    """Work an exercise as one who knows the hidden faults, and mark it."""
    run = ExerciseRun(model, wanted, readings)
    best = best_order(ExerciseRun(model, wanted, readings, weighs=False))
    for kind, name in best.acts if best else ():
        run.act({"do": kind, "id": name})
    # Beside a cause outside all else is mended, and what a repair sets off too.
    while best is None and (left := [name for name in run.car.members if name != "outside"]):
        run.act({"do": "repair", "id": left[0]})
    run.act({"do": "close" if best else "stop"})
    return marks_of(run)


def drawn(model: Model, seed: int) -> Exercise:
    """Set the exercise of a seed, its faults drawn as cars come."""
    return Exercise("air", "car", "net", seed, drawn_faults(model, seed), minutes=60.0, money=1e6)


def key_is_right(model: Model, readings: Mapping[str, Json], wanted: Exercise) -> bool:
    """Tell whether one who knows the hidden faults gets all that can be had."""
    marks = worked_with_key(model, readings, wanted)
    if "outside" in wanted.faults and len(wanted.faults) > 1:
        return marks.parts[0].points == 35
    lost = {part.name for part in marks.parts if part.points < part.most}
    # A part whose fault no test shows on this very car is bought unseen.
    return marks.right and lost <= {"Looked before buying"} and not marks.again


def misfit(model: Model, key: Key, cars: Iterable[HiddenCar]) -> float:
    """Return how far the abnormal answers of seeded cars lie from the network's chance [sd]."""
    fine = model.columns(key)[0]
    shown = expected = variance = 0.0
    for car in cars:
        shown += car.shows(key) > 0
        chance = 1.0 - fine[car.present]
        expected += chance
        variance += chance * (1.0 - chance)
    return abs(shown - expected) / variance**0.5 if variance else float(shown != expected)
