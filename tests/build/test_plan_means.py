"""The demo book as exercises: a fixed sample of seeds on every procedure; `make bench` has 1000."""

from pathlib import Path
from types import SimpleNamespace

import pytest
from tests.calc.exercise.cars import drawn, key_is_right, misfit, model, story

from baybook.book.asked_readings import asked_readings
from baybook.book.bound import BoundProcedure
from baybook.book.compiled import compile_book
from baybook.book.plan_means import PlanMeans, good_seeds
from baycalc.exercise.hidden_car import HiddenCar
from baycalc.exercise.reference_plan import ExerciseWorkshop
from baycalc.exercise.setting import Exercise
from baycalc.isolation.model.bayes_net import Model
from baycalc.isolation.model.read_network import from_data
from baycalc.isolation.planning.confirmation import confirmation_of

ROOT = Path(__file__).parents[2]
SEEDS = range(1, 5)
PROCEDURES = sorted(path.stem for path in (ROOT / "procedures").glob("*.md"))


@pytest.fixture(scope="module")
def first_cars() -> dict[str, BoundProcedure]:
    """The first car of each procedure of the demo book."""
    found: dict[str, BoundProcedure] = {}
    for car in compile_book(ROOT / "procedures").bound:
        found.setdefault(car.source.id, car)
    return found


@pytest.mark.parametrize("name", PROCEDURES)
def test_every_key_of_a_sample_is_right_and_answers_fit_the_network(name, first_cars):
    car = first_cars[name]
    net = Model(from_data(car.network))
    readings = asked_readings(car, car.source.data.tools)
    wrong = [seed for seed in SEEDS if not key_is_right(net, readings, drawn(net, seed))]
    assert wrong == []
    keys = confirmation_of(net).keys
    many = range(1, 121)
    cars = [HiddenCar(net, drawn(net, seed)) for seed in many]
    assert max(misfit(net, key, cars) for key in keys) < 4.5


def test_a_mean_is_worked_out_once_and_kept(tmp_path, first_cars):
    car = first_cars["thermostat-warm-up"]
    fault = next(iter(car.faults))
    wanted = Exercise(car.source.id, car.vehicle.id, car.key, 1, (fault,))
    found = PlanMeans(tmp_path).work_out(wanted, car, cars=4)
    assert (found.cars, found.says) == (4, f"thermostat-warm-up/{car.vehicle.id}: {fault}")
    assert PlanMeans(tmp_path).find(wanted) == found
    assert PlanMeans(tmp_path).find(Exercise("x", "y", "other", 1, (fault,))) is None


def test_seeds_on_which_the_plan_ends_wrong_are_left_out(tmp_path):
    car = SimpleNamespace(network=story())
    wanted = Exercise("air", "car", "net", 1, ("valve", "pump"))
    found = PlanMeans(tmp_path).work_out(wanted, car, cars=40)
    seeds = good_seeds(wanted, car, 1)
    given = [next(seeds) for _ in range(40 - len(found.left_out))]
    assert found.left_out
    assert set(given) == set(range(1, 41)) - set(found.left_out)
    workshop = ExerciseWorkshop(model(), wanted)
    assert not workshop.ends_right(found.left_out[0])
