"""Acts of an exercise, what they cost, and what cannot be done."""

import pytest
from tests.calc.exercise.cars import begun, exercise, work
from tests.calc.isolation.networks import check, fault, network

from baycalc.exercise.run import MOST_ACTS, BadAct, ExerciseRun
from baycalc.isolation.model.bayes_net import Model
from baycalc.isolation.model.read_network import from_data


def test_the_clock_counts_what_the_job_takes():
    run = begun("hose")
    assert run.job.minutes == 1
    work(run, "test see", "repair hose", "proof", "close")
    assert (run.job.minutes, run.job.price) == (1 + 2 + 10 + 10, 6)
    assert [done.minutes for done in run.done] == [2, 10, 10, 0]
    assert run.ended == "close"


def test_asking_twice_gives_the_same():
    run = work(begun("valve", seed=3), "test hold", "test hold")
    first, second = run.done
    assert first.shown == second.shown
    assert (first.told, second.told) == (True, False)


def test_a_reading_comes_with_its_verdict_in_the_unit_chosen():
    run = begun("valve", seed=3)
    us = run.act({"do": "test", "id": "hold", "units": "us"}).shown[0]
    metric = run.act({"do": "test", "id": "hold", "units": "metric"}).shown[0]
    assert (us.unit, metric.unit) == ("inHg", "kPa")
    assert us.verdict["outcome"] == metric.verdict["outcome"]


def test_a_test_before_the_one_that_protects_is_dangerous():
    told = "“Test spin” was done before “Test hold”, which protects a part or a person."
    assert work(begun("valve"), "test spin").done[0].danger == told
    assert work(begun("valve"), "test hold", "test spin").done[1].danger == ""


def test_a_part_is_spoken_for_only_by_a_test_that_did_not_clear_it():
    run = next(
        run for seed in range(1, 99) if (run := begun("hose", seed=seed)).car.complaints == ()
    )
    assert not work(run, "repair pump").done[0].spoken
    seen = next(
        run
        for seed in range(1, 99)
        if work(run := begun("hose", seed=seed), "test see").done[0].shown[0].band == "abnormal"
    )
    assert work(seen, "repair hose").done[1].spoken
    cleared = next(
        run
        for seed in range(1, 99)
        if work(run := begun("pump", seed=seed), "test see").done[0].shown[0].band == "normal"
    )
    assert not work(cleared, "repair hose").done[1].spoken


@pytest.mark.parametrize(
    ("act", "told"),
    [
        ({"do": "test", "id": "horn"}, "There is no test 'horn' on this car."),
        ({"do": "test", "id": None}, "There is no test None on this car."),
        ({"do": "test", "id": "see", "units": "x"}, "Expected the units us or metric, got 'x'."),
        ({"do": "repair", "id": "outside"}, "There is no repair 'outside' on this car."),
        ({"do": "help"}, "In this exercise there is no help to ask for."),
        (
            {"do": "close"},
            "A job is closed after its proof: do the proof first, or hand the job on.",
        ),
        (
            {"do": "sing"},
            "Expected one of test, repair, outside, proof, help, close, stop; got 'sing'.",
        ),
        ({}, "Expected one of test, repair, outside, proof, help, close, stop; got None."),
    ],
)
def test_what_cannot_be_done_is_told_and_leaves_nothing_behind(act, told):
    run = begun("valve")
    before = list(run.history)
    with pytest.raises(BadAct) as error:
        run.act(act)
    assert str(error.value) == told
    assert (run.history, run.done) == (before, [])


def test_after_the_end_nothing_is_done():
    run = work(begun("valve"), "stop")
    with pytest.raises(BadAct, match="has ended"):
        work(run, "proof")


def test_acts_without_end_are_refused():
    run = begun("valve")
    run.done = run.done + [work(begun("valve"), "proof").done[0]] * MOST_ACTS
    with pytest.raises(BadAct, match=f"no more than {MOST_ACTS} acts"):
        work(run, "proof")


def test_a_look_outside_mends_what_it_finds():
    found = next(
        run
        for seed in range(1, 99)
        if work(run := begun("outside", seed=seed), "outside").done[0].good
    )
    assert found.car.is_good
    missed = next(
        run
        for seed in range(1, 99)
        if not work(run := begun("outside", seed=seed), "outside").done[0].good
    )
    assert not missed.car.is_good


def test_no_look_outside_where_no_cause_can_be_there():
    whole = network([fault("hose", 5, 10, 6)], [check("see", 2, {"hose": 0.9})])
    run = ExerciseRun(Model(from_data(whole)), exercise("hose"), {})
    with pytest.raises(BadAct, match="knows no cause outside"):
        work(run, "outside")
