"""What tests detect and separate, on procedures small enough to see the answer."""

import pytest
from tests.calc.isolation.networks import check, fault, network

from baycalc.isolation.model.bayes_net import Model
from baycalc.isolation.model.read_network import from_data
from baycalc.isolation.report.testability import (
    ambiguity_groups,
    detection,
    diagnosability,
    distance,
)


def model_of(faults, tests):
    return Model(from_data(network(faults, tests)))


@pytest.fixture(scope="module")
def shown(five):
    return diagnosability(five)


def test_unseen_and_hardly_seen(shown):
    assert shown.unseen == ("hidden",)
    assert shown.faint == ("faint",)


def test_groups(shown):
    """Neither the twins nor the faint and the hidden fault are told apart."""
    assert shown.groups == (("twin", "double"), ("faint", "hidden"))


def test_detected(shown):
    """Three faults of five, by frequency 8 of 10 (fractions of IEEE Std 1522, from memory)."""
    assert shown.detected == pytest.approx(3 / 5)
    assert shown.detected_weighted == pytest.approx(8 / 10)


def test_isolated(shown):
    """One of the three detected, by frequency 4 of 8."""
    assert shown.isolated == pytest.approx(1 / 3)
    assert shown.isolated_weighted == pytest.approx(4 / 8)


def test_shares(shown):
    """Ten weights in all."""
    assert shown.shares == {"clear": 0.4, "twin": 0.3, "double": 0.1, "faint": 0.1, "hidden": 0.1}
    assert shown.detection["clear"] == pytest.approx(1 - 0.05 * 0.05)


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


def test_without_tests():
    shown = diagnosability(model_of([fault("a"), fault("b")], []))
    assert shown.unseen == ("a", "b")
    assert shown.groups == (("a", "b"),)
    assert (shown.detected, shown.isolated) == (0.0, 0.0)
