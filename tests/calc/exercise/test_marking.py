"""The marks: each part for itself, and its sentence."""

import pytest
from tests.calc.exercise.cars import READINGS, begun, drawn, exercise, key_is_right, model, work
from tests.calc.isolation.networks import check, fault, network

from baycalc.exercise.best_order import best_order
from baycalc.exercise.marking import marks_of
from baycalc.exercise.run import ExerciseRun
from baycalc.isolation.model.bayes_net import Model
from baycalc.isolation.model.read_network import from_data


def points(run: ExerciseRun) -> list[int]:
    return [part.points for part in marks_of(run).parts]


def seen(fault: str, test: str, *more: str, **given) -> ExerciseRun:
    """An exercise in which a test shows its fault."""
    return next(
        run
        for seed in range(1, 200)
        if work(run := begun(fault, *more, seed=seed, **given), f"test {test}")
        .done[0]
        .shown[0]
        .band
        == "abnormal"
        and run.car.state == "+".join(sorted((fault, *more)))
    )


def test_all_points_for_a_job_done_well():
    run = work(seen("hose", "see"), "repair hose", "proof", "close")
    marks = marks_of(run)
    assert (marks.right, marks.total, marks.again, points(run)) == (
        True,
        100,
        False,
        [35, 20, 15, 20, 10],
    )
    assert marks.hidden == ("Hose is bad",)
    assert marks.best == ("Test see", "Repair: Hose is bad", "Prove the repair")


def test_a_part_bought_unseen_is_a_guess_right_or_not():
    run = work(begun("hose"), "repair hose", "proof", "close")
    assert points(run) == [35, 0, 15, 20, 10]
    assert "A guess, right or not" in marks_of(run).parts[1].says
    run = work(begun("hose"), "repair pump", "test see", "repair hose", "proof", "close")
    guesses = marks_of(run).parts[1]
    assert "Pump is bad" in guesses.says and guesses.points <= 10
    assert "Done in vain: the repair of Pump is bad." in marks_of(run).notes


def test_a_pair_gives_most_for_the_cause():
    first = work(begun("valve", "pump", seed=4), "repair valve", "stop")
    assert points(first)[0] == 20
    second = work(begun("valve", "pump", seed=4), "repair pump", "stop")
    assert points(second)[0] == 15


@pytest.mark.parametrize(("money", "expected"), [(1000.0, 20), (20.0, 20), (12.0, 8), (1.0, 0)])
def test_cost_is_held_against_the_mean_of_the_plan(money, expected):
    run = work(seen("hose", "see", money=money), "repair hose", "proof", "close")
    assert run.job.minutes + run.job.price == 29
    assert points(run)[3] == expected


def test_help_takes_points_of_the_cost():
    run = seen("hose", "see", help="on-demand")
    work(run, "help", "help", "repair hose", "proof", "close")
    assert points(run)[3] == 16
    assert "Help was asked for twice: 2 points less each time." in marks_of(run).parts[3].says


def test_a_dangerous_order_leaves_forty_and_the_exercise_is_done_again():
    run = work(seen("hose", "see"), "test spin", "repair hose", "proof", "close")
    marks = marks_of(run)
    assert (marks.total, marks.again, points(run)[4]) == (40, True, 0)
    assert "“Test spin” was done before “Test hold”" in marks.parts[4].says


def test_a_proof_is_read():
    closed_anyway = next(
        run
        for seed in range(1, 99)
        if not work(run := begun("valve", seed=seed), "repair hose", "proof").done[-1].good
    )
    work(closed_anyway, "close")
    assert points(closed_anyway)[2] == 0
    assert "closed though its proof had failed" in marks_of(closed_anyway).parts[2].says
    assert points(work(begun("hose"), "repair hose", "stop"))[2] == 0
    early = work(begun("hose"), "proof", "repair hose", "close")
    assert marks_of(early).parts[2].says == "No proof was done after the last repair."


def test_giving_up_at_once_earns_nothing():
    assert marks_of(work(begun("valve"), "stop")).total == 0


def test_a_good_car_is_left_alone():
    assert marks_of(work(begun("none"), "test see", "stop")).total == 100
    bought = marks_of(work(begun("none"), "repair pump", "proof", "close"))
    assert (bought.right, bought.total) == (False, 0)
    assert bought.parts[0].says == "Nothing was wrong with this car, yet a part was bought."


def test_a_cause_outside_is_handed_on():
    marks = marks_of(work(begun("outside", seed=2), "test see", "stop"))
    assert (marks.right, marks.parts[0].says) == (
        True,
        "The cause lay outside this procedure, and the job went there.",
    )


def test_a_test_that_told_nothing_is_named():
    run = work(seen("hose", "see"), "test see", "repair hose", "proof", "close")
    assert "Told nothing new: “Test see”." in marks_of(run).notes


def test_who_knows_the_key_gets_every_point_in_each_of_many_exercises():
    net = model()
    wrong = [seed for seed in range(1, 151) if not key_is_right(net, READINGS, drawn(net, seed))]
    assert wrong == []


def test_where_every_test_of_a_fault_is_forbidden_its_repair_is_the_cheapest_order_all_the_same():
    """The look comes first, shows something on this car, and forbids the one test of the fault."""
    look = check("look", 1, {"valve": 0.5})
    band = {"id": "wet", "shows": {"valve": 0.5}, "false_alarm": 0.999, "stops": ["hold"]}
    look["observations"] = [{"id": "seen", "bands": [band]}]
    hold = check("hold", 5, {"hose": 0.95}, after=["look"])
    data = network([fault("valve", 3, 30, 90), fault("hose", 5, 10, 6)], [look, hold])
    best = best_order(ExerciseRun(Model(from_data(data)), exercise("hose"), {}))
    assert best is not None
    assert best.acts == (("repair", "hose"), ("proof", ""))
