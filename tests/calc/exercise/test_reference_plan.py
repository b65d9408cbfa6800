"""The plan on the cars of an exercise."""

import pytest
from tests.calc.exercise.cars import exercise, model

from baycalc.exercise.reference_plan import ExerciseWorkshop
from baycalc.isolation.planning.policies import by_guess


def test_the_mean_is_of_the_cars_on_which_the_plan_ends_right():
    workshop = ExerciseWorkshop(model(), exercise("valve"))
    mean = workshop.mean(40)
    right = [seed for seed in range(1, 41) if workshop.ends_right(seed)]
    worked = [workshop.work(workshop.take_in(seed)) for seed in right]
    assert mean.right == len(right) / 40
    assert mean.money == pytest.approx(sum(car.minutes + car.price for car in worked) / len(worked))


def test_it_is_the_same_each_time():
    one, other = (ExerciseWorkshop(model(), exercise("hose")).mean(20) for _ in range(2))
    assert one == other


def test_guessing_costs_more_where_the_dear_part_is_the_likely_one():
    plan = ExerciseWorkshop(model(), exercise("pump")).mean(40)
    guess = ExerciseWorkshop(model(), exercise("pump"), by_guess).mean(40)
    assert guess.money > plan.money
