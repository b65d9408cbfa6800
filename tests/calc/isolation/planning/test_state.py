"""What a history says of the work: minutes, set-ups, waiting, money, tests done."""

import pytest
from tests.calc.isolation.jobs import case_of, events
from tests.calc.isolation.networks import Json, check, fault, network, result

from baycalc.isolation.model.bayes_net import Model
from baycalc.isolation.model.read_network import from_data
from baycalc.isolation.planning.state import QUICK, JobState, Stand, state_of

CODE = {"code": "P0410", "state": "stored"}


def job(model: Model, *history: Json) -> JobState:
    return state_of(model, events(model, list(history)))


def test_minutes_and_set_up(pump):
    """Set-up 5, test 8; the next in the same set-up 6; then the proof of 15."""
    assert job(pump, CODE).minutes == 0.0
    assert job(pump, CODE, result("pump-feed")).minutes == 13.0
    both = job(pump, CODE, result("pump-feed"), result("valve-hold"))
    assert (both.minutes, both.stand) == (19.0, Stand("raised"))
    assert job(pump, CODE, result("pump-feed"), {"recheck": "cured"}).stand == Stand()


def test_money(pump):
    """Sixty minutes of work at 1 a minute and a part of 250."""
    assert job(pump, {"repair": "pump"}).money == 310.0


def test_a_second_observation_of_a_test_costs_nothing_more():
    test = check("t", 5, {"a": 0.9})
    test["observations"].append({"id": "heard", "shows": {"b": 0.9}, "false_alarm": 0.0})
    model = Model(from_data(network([fault("a"), fault("b")], [test])))
    heard = {"test": "t", "observation": "heard", "result": "abnormal"}
    assert job(model, result("t"), heard).minutes == 5.0
    assert job(model, result("t"), heard, result("t")).minutes == 10.0


def test_a_test_that_was_not_done_costs_nothing(pump):
    skipped = job(pump, result("pump-feed", "skipped"))
    assert (skipped.minutes, skipped.done, skipped.skipped) == (0.0, set(), {"pump-feed"})


@pytest.fixture
def cold() -> Model:
    """Eight hours of standing for a cold start, ten minutes of work for a warm one."""
    setups = {
        "cold-start": {"minutes": 5, "wait": 480, "state": "cold"},
        "idle": {"minutes": 10, "state": "warm"},
        "cold-look": {"minutes": 3, "wait": 480, "state": "cold", "burden": 4},
    }
    tests = [
        check("start", 3, {"a": 0.9}, setup="cold-start"),
        check("trims", 2, {"a": 0.9}, setup="idle"),
        check("look", 2, {"a": 0.9}, setup="cold-look", price=7),
    ]
    return Model(from_data(network([fault("a"), fault("b")], tests, setups=setups)))


def test_a_soak_costs_a_night(cold):
    """8 h of standing weigh as a quarter of that: 120 + 5 + 3 minutes."""
    after = job(cold, result("start"))
    assert (after.minutes, after.wait, after.money) == (8.0, 480.0, 128.0)


def test_a_car_that_came_in_cold_need_not_stand(cold):
    after = job(cold, {"state": "cold"}, result("start"))
    assert (after.minutes, after.wait) == (QUICK + 3.0, 0.0)


def test_cold_is_gone_once_the_engine_was_warm(cold):
    after = job(cold, {"state": "cold"}, result("trims"), result("start"))
    assert (after.minutes, after.wait) == (12.0 + 8.0, 480.0)


def test_two_set_ups_of_one_state_and_what_a_test_uses_up(cold):
    after = job(cold, {"state": "cold"}, result("start"), result("look"))
    assert (after.minutes, after.wait, after.price) == (5.0 + QUICK + 2.0, 0.0, 7.0)


def test_the_plan_counts_the_night_too(cold):
    problem = case_of(cold, []).problem
    step = problem.steps.to(problem.number["start"], Stand(), problem.met, problem.open)
    assert (step.minutes, step.wait) == (8.0, 480.0)
    problem = case_of(cold, [{"state": "cold"}]).problem
    stand = case_of(cold, [{"state": "cold"}]).job.stand
    step = problem.steps.to(problem.number["look"], stand, problem.met, problem.open)
    assert (step.minutes, step.wait) == (QUICK + 2.0, 0.0)
    assert step.cost == QUICK + 2.0 + 4.0 + 7.0  # the burden of the set-up, what the test uses up


def test_a_look_outside_takes_its_hour(pump):
    assert job(pump, {"outside": "not found"}).looked_outside
    assert job(pump, {"outside": "not found"}).minutes == 60.0
    found = job(pump, {"outside": "found"})
    assert (found.minutes, found.repaired, found.looked_outside) == (60.0, ["outside"], False)
