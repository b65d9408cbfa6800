"""The author's figures, on procedures small enough to see the answer."""

import pytest
from tests.calc.isolation.networks import check, fault, network

from baycalc.isolation.metrics import (
    ambiguity_groups,
    detection,
    diagnosability,
    distance,
    figures,
)
from baycalc.isolation.model import Model
from baycalc.isolation.network import from_data


def model_of(faults, tests, **more):
    return Model(from_data(network(faults, tests, recheck_minutes=5, **more)))


@pytest.fixture(scope="module")
def five():
    """Seen and separated; two that look alike; hardly seen; not seen at all."""
    return model_of(
        [
            fault("clear", 4, 20, 50),
            fault("twin", 3, 20, 50),
            fault("double", 1, 20, 50),
            fault("faint", 1, 20, 50),
            fault("hidden", 1, 20, 50),
        ],
        [
            check("one", 2, {"clear": 0.95}, false_alarm=0.01),
            check("two", 3, {"twin": 0.9, "double": 0.9}, false_alarm=0.01),
            check("three", 4, {"faint": 0.4}, false_alarm=0.01),
            check("dear", 500, {"clear": 0.95}, false_alarm=0.01),
        ],
    )


@pytest.fixture(scope="module")
def found(five):
    return figures(five)


def test_unseen(found):
    assert found.unseen == ("hidden",)


def test_groups(found):
    """Neither the twins nor the faint and the hidden fault are told apart."""
    assert found.groups == (("twin", "double"), ("faint", "hidden"))


def test_detected(found):
    """Three faults of five, by frequency 8 of 10 (fractions of IEEE Std 1522, from memory)."""
    assert found.detected == pytest.approx(3 / 5)
    assert found.detected_weighted == pytest.approx(8 / 10)


def test_isolated(found):
    """One of the three detected, by frequency 4 of 8."""
    assert found.isolated == pytest.approx(1 / 3)
    assert found.isolated_weighted == pytest.approx(4 / 8)


def test_never_pays(found):
    assert found.never_pay == ("dear",)


def test_each_fault(found):
    assert [item.fault for item in found.faults] == ["clear", "twin", "double", "faint", "hidden"]
    assert sum(item.share for item in found.faults) == pytest.approx(1.0)
    clear = found.faults[0]
    assert clear.detection == pytest.approx(1 - 0.05 * 0.05)
    assert clear.right >= 0.9


def test_dearest(found):
    money = {item.fault: item.money for item in found.faults}
    assert found.dearest == max(money, key=money.__getitem__)


def test_cost_of_finding_by_hand():
    """No tests: a is repaired first, so finding it is free, and b costs a's repair and proof.

    20 minutes, 50 for the part, 5 of proof; one proof in a hundred passes in vain.
    """
    found = figures(model_of([fault("a", 9, 20, 50), fault("b", 1, 20, 50)], []))
    assert found.faults[0].money == pytest.approx(0.0)
    assert found.faults[1].money == pytest.approx(75.0, abs=5.0)
    assert found.dearest == "b"


def test_same_seed_same_figures(five, found):
    assert figures(five) == found


@pytest.mark.parametrize(
    ("first", "second", "expected"),
    [(0.9, 0.0, 0.9), (0.9, 0.9, 0.0), (0.7, 0.2, 0.5)],
)
def test_distance_of_one_observation(first, second, expected):
    """Total variation of two coins is the difference of their chances."""
    model = model_of(
        [fault("a"), fault("b")], [check("t", 1, {"a": first, "b": second}, false_alarm=0.0)]
    )
    assert distance(model, 0, 1) == pytest.approx(expected)


def test_distance_of_two_observations_by_hand():
    """Shown with .8 and .2 twice: |.64-.04| + |.04-.64| over 2, the mixed results cancel."""
    tests = [check(name, 1, {"a": 0.8, "b": 0.2}, false_alarm=0.0) for name in "tu"]
    model = model_of([fault("a"), fault("b")], tests)
    assert distance(model, 0, 1) == pytest.approx(0.6)


def test_weak_tests_add_up():
    """One test of .3 against .0 does not separate; four of them do: 1 - .7^4 = .76."""
    tests = [check(name, 1, {"a": 0.3}, false_alarm=0.0) for name in "tuvw"]
    assert ambiguity_groups(model_of([fault("a"), fault("b")], tests[:1])) == [(0, 1)]
    assert ambiguity_groups(model_of([fault("a"), fault("b")], tests)) == [(0,), (1,)]


def test_groups_are_closed():
    """a and b look alike, b and c look alike: one group, though a and c are told apart."""
    tests = [check("t", 1, {"a": 0.0, "b": 0.4, "c": 0.8}, false_alarm=0.0)]
    assert ambiguity_groups(model_of([fault(name) for name in "abc"], tests)) == [(0, 1, 2)]


def test_detection_by_several_tests(five):
    assert detection(five, 3) == pytest.approx(0.4)
    assert detection(five, 4) == 0.0


def test_what_the_tests_can_show(five, found):
    """The figures of simulated cars stand on the same findings."""
    shown = diagnosability(five)
    assert shown.unseen == found.unseen == ("hidden",)
    assert shown.faint == ("faint",)
    assert shown.groups == found.groups
    assert shown.detection == {item.fault: item.detection for item in found.faults}


def test_never_separated_without_tests():
    model = model_of([fault("a"), fault("b")], [])
    found = figures(model)
    assert found.unseen == ("a", "b")
    assert found.groups == (("a", "b"),)
    assert (found.detected, found.isolated) == (0.0, 0.0)
