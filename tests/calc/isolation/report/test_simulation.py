"""Simulated cars: repeatable, as the network says, and better by the plan than by guess."""

from collections import Counter

import pytest
from tests.calc.isolation.networks import check, fault, network

from baycalc.isolation.model.bayes_net import RECHECK, Key, Model
from baycalc.isolation.model.read_network import from_data
from baycalc.isolation.planning.policies import by_guess, by_page, by_plan, by_quick_plan
from baycalc.isolation.report.plan_tree import plan_tree
from baycalc.isolation.report.simulation import Workshop, simulate

CARS = 800


@pytest.fixture(scope="module")
def model():
    from tests.calc.isolation.networks import pump_story

    return Model(from_data(pump_story()))


@pytest.fixture(scope="module")
def outcomes(model):
    return {
        policy: simulate(model, CARS, seed=3, policy=policy)
        for policy in (by_plan, by_guess, by_page)
    }


def test_the_plan_ends_right(outcomes):
    """The other two close jobs in which a cause or a knock-on is left."""
    plan = outcomes[by_plan]
    assert plan.right >= 0.93
    assert plan.right + plan.honest >= 0.97
    assert outcomes[by_guess].right < 0.95
    assert outcomes[by_page].right < 0.95


def test_the_plan_costs_less_than_guesswork(outcomes):
    plan, guess = outcomes[by_plan], outcomes[by_guess]
    assert plan.money < guess.money
    assert plan.in_vain < 0.2 < guess.in_vain


def test_same_seed_same_cars(model, outcomes):
    assert simulate(model, CARS, seed=3) == outcomes[by_plan]
    assert simulate(model, 50, seed=1) != simulate(model, 50, seed=2)


def test_cars_have_the_faults_that_the_network_says(model):
    """Sets of faults in 20 000 cars, codes or none: three standard errors at most."""
    bay = Workshop(model, by_plan, seed=7)
    bay.model.network.codes.clear()
    counted = Counter(bay.arrive().present for _ in range(20000))
    for place, chance in enumerate(model.prior(model.network.outside.share)):
        error = (chance * (1 - chance) / 20000) ** 0.5
        assert counted[place] / 20000 == pytest.approx(chance, abs=3.5 * error + 1e-9)


def test_a_later_knock_on_comes_as_often_as_it_says():
    """The pump alone, repaired: the relay dies in three cars of ten."""
    faults = [
        fault("pump", leads_to={"relay": {"chance": 0.0, "later": 0.3}}, price=9),
        fault("relay"),
    ]
    model = Model(from_data(network(faults, [check("t", 1, {"pump": 1.0})])))
    bay = Workshop(model, by_plan, seed=5)
    dead = 0
    for _ in range(4000):
        car = bay.arrive(model.sets.index[0b01])
        bay.work(car)
        dead += Key("repair", "relay") in [event.key for event in car.events]
    assert dead / 4000 == pytest.approx(0.3, abs=0.03)


def test_the_mean_is_what_the_plan_expects():
    """One fault at a time, so nothing is missed: the tree's figure within three per cent."""
    data = network(
        [fault("a", 3, 20, 50), fault("b", 2, 10, 90), fault("c", 1, 40, 10)],
        [check("t", 4, {"a": 0.9, "b": 0.2}), check("u", 6, {"b": 0.95})],
        base=1e-9,
        recheck_minutes=5,
    )
    model = Model(from_data(data))
    expected = plan_tree(model, [], rare=1e-4).to_go
    outcome = simulate(model, 6000, seed=1)
    assert outcome.money == pytest.approx(expected.money, rel=0.03)
    assert outcome.minutes == pytest.approx(expected.minutes, rel=0.03)


def test_a_job_ends_proven(model):
    bay = Workshop(model, by_plan, seed=11)
    car = bay.work(bay.arrive(model.sets.index[0b0110]))
    assert car.end == "close"
    assert Key("repair", "pump") in [event.key for event in car.events]
    assert car.events[-1].key == RECHECK or car.events[-1].key.kind == "test"


def test_a_quick_plan_is_nearly_as_good(model, outcomes):
    quick = simulate(model, CARS, seed=3, policy=by_quick_plan)
    assert quick.money <= 1.1 * outcomes[by_plan].money


def test_a_job_that_never_ends_is_given_up(model):
    from baycalc.isolation.planning.decide import Action

    outcome = simulate(model, 3, policy=lambda _: Action("repair", "fuse"))
    assert outcome.right == 0.0
    assert outcome.in_vain > 70
