"""Where a job stands: minutes, money, set-up, worked through by hand."""

import pytest
from tests.calc.isolation.networks import result

from baycalc.isolation.inference.evidence import read_history
from baycalc.isolation.planning.job import job_of


def job(model, *events):
    return job_of(model, read_history(model, list(events)))


def test_minutes_and_money_of_a_whole_job(pump):
    """2 + (5 + 8) + 6 in the same set-up + 60 + 15, and 250 for the pump; one a minute."""
    done = job(
        pump,
        {"code": "P0410", "stored": True},
        result("safe", False),
        result("pump-feed"),
        result("valve-hold", False),
        {"repair": "pump"},
        {"recheck": "cured"},
    )
    assert done.minutes == pytest.approx(2 + 13 + 6 + 60 + 15)
    assert done.price == 250
    assert done.money == pytest.approx(done.minutes + 250)
    assert done.repaired == ["pump"]
    assert done.rechecked == "cured"


def test_the_set_up_is_gone_after_a_repair(pump):
    done = job(pump, result("pump-feed"), {"repair": "pump"}, result("pump-feed", False))
    assert done.minutes == pytest.approx((5 + 8) + 60 + (5 + 8))
    assert done.setup == "raised"
    assert done.rechecked is None


def test_the_set_up_is_gone_after_the_proof(pump):
    """The car is driven."""
    done = job(pump, result("pump-feed"), {"recheck": "not cured"}, result("valve-hold"))
    assert done.minutes == pytest.approx((5 + 8) + 15 + (5 + 6))


def test_a_test_as_it_stands_keeps_the_set_up(pump):
    done = job(pump, result("pump-feed"), result("fuse-look"), result("valve-hold"))
    assert done.minutes == pytest.approx((5 + 8) + 2 + 6)


def test_not_done_costs_nothing(pump):
    done = job(pump, result("pump-feed", "not done"))
    assert done.minutes == 0
    assert done.done == set()


def test_a_repeated_test_costs_again(pump):
    assert job(pump, result("fuse-look"), result("fuse-look")).minutes == pytest.approx(4)


def test_a_reading_near_its_limit_counts_as_done(pump):
    done = job(pump, result("fuse-look", {"likelihood": [0.5, 0.4]}))
    assert done.done == {"fuse-look"}


def test_two_observations_are_one_test(pump_data):
    from baycalc.isolation.model.bayes_net import Model
    from baycalc.isolation.model.fault_model import from_data

    pump_data["tests"][0]["observations"].append({"id": "heard", "shows": {}, "false_alarm": 0.0})
    model = Model(from_data(pump_data))
    events = [
        {"test": "safe", "observation": name, "result": "shown"} for name in ("seen", "heard")
    ]
    assert job(model, *events).minutes == 2
    assert job(model, *events, *events).minutes == 4
