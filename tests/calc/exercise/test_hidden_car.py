"""Answers of a hidden car: the same whenever asked, and as often as the network says."""

from collections import Counter
from itertools import pairwise

import pytest
from tests.calc.exercise.cars import exercise, model

from baycalc.exercise.hidden_car import HiddenCar, drawn, drawn_faults
from baycalc.exercise.setting import NoExercise
from baycalc.isolation.model.bayes_net import Key

SEEDS = range(1, 1001)
HOLD, SEE = Key("test", "hold", "seen"), Key("test", "see", "seen")


def test_a_draw_hangs_on_all_that_it_is_asked_for_and_on_nothing_else():
    assert drawn(1, "a", "b") == drawn(1, "a", "b")
    assert len({drawn(1, "a", "b"), drawn(2, "a", "b"), drawn(1, "ab"), drawn(1, "b", "a")}) == 4


def test_draws_are_spread_evenly():
    tenths = Counter(int(10 * drawn(seed, "x")) for seed in SEEDS)
    assert sum((tenths[place] - 100) ** 2 / 100 for place in range(10)) < 27.9  # 0.1 %, 9 degrees


def test_the_same_car_answers_alike_in_whatever_order():
    one, other = (HiddenCar(model(), exercise("valve", seed=5)) for _ in range(2))
    assert [one.shows(HOLD), one.shows(SEE)] == [other.shows(SEE), other.shows(HOLD)][::-1]
    assert one.shows(HOLD) == one.shows(HOLD)


def test_a_repair_in_vain_changes_no_answer():
    for seed in range(1, 30):
        car = HiddenCar(model(), exercise("valve", seed=seed))
        before = [car.shows(HOLD), car.shows(SEE), car.proof_fails()]
        assert not car.repair("hose")
        assert [car.shows(HOLD), car.shows(SEE), car.proof_fails()] == before


def test_a_repair_that_meets_its_fault_makes_a_good_car():
    car = HiddenCar(model(), exercise("hose"))
    assert (car.is_good, car.repair("hose"), car.is_good) == (False, True, True)
    assert not car.proof_fails()


def test_outcomes_come_as_often_as_the_network_says():
    net = model()
    for fault, key in (("valve", HOLD), ("hose", SEE), ("pump", HOLD)):
        cars = [HiddenCar(net, exercise(fault, seed=seed)) for seed in SEEDS]
        chance = net.columns(key)[1][cars[0].present]
        shown = sum(car.shows(key) for car in cars)
        assert abs(shown - 1000 * chance) < 3.3 * (1000 * chance * (1 - chance)) ** 0.5


def test_faults_are_drawn_as_cars_come_in():
    net = model()
    found = Counter(drawn_faults(net, seed) for seed in SEEDS)
    # As the simulation: a car comes in with a code stored.
    prior = net.prior(net.network.outside.share)
    stored = net.columns(Key("code", "P1"))[1]
    whole = sum(a * b for a, b in zip(prior, stored, strict=True))
    for place, members in enumerate(net.sets.members):
        expected = 1000 * prior[place] * stored[place] / whole
        name = tuple(net.ids[number] for number in members)
        if expected > 5:
            assert abs(found[name] - expected) < 3.3 * expected**0.5, name


def test_a_car_comes_in_with_a_code():
    assert all(HiddenCar(model(), exercise("valve", seed=seed)).codes for seed in SEEDS)


def test_codes_that_are_given_are_those():
    assert HiddenCar(model(), exercise("valve", codes=())).codes == ()
    with pytest.raises(NoExercise, match="no code P9 on this car"):
        HiddenCar(model(), exercise("valve", codes=("P9",)))


@pytest.mark.parametrize("faults", [("horn",), ("valve", "horn")])
def test_a_fault_that_is_not_there_is_told(faults):
    with pytest.raises(NoExercise, match="no fault horn on this car"):
        HiddenCar(model(), exercise(*faults))


def test_the_order_of_the_faults_does_not_count():
    one = HiddenCar(model(), exercise("valve", "pump", seed=9))
    other = HiddenCar(model(), exercise("pump", "valve", seed=9))
    assert (one.state, one.codes, one.shows(HOLD)) == (other.state, other.codes, other.shows(HOLD))


def test_seeds_tell_cars_apart():
    answers = [
        tuple(HiddenCar(model(), exercise("valve", seed=seed)).shows(key) for key in (HOLD, SEE))
        for seed in range(1, 200)
    ]
    assert any(one != other for one, other in pairwise(answers))
