"""The author's figures, on procedures small enough to see the answer."""

import pytest
from tests.calc.isolation.networks import fault, network

from baycalc.isolation.metrics import figures
from baycalc.isolation.model import Model
from baycalc.isolation.network import from_data
from baycalc.isolation.separation import diagnosability


def model_of(faults, tests, **more):
    return Model(from_data(network(faults, tests, recheck_minutes=5, **more)))


@pytest.fixture(scope="module")
def found(five):
    return figures(five)


def test_what_the_tests_show_stands_beside(five, found):
    shown = diagnosability(five)
    assert found.unseen == shown.unseen == ("hidden",)
    assert found.groups == shown.groups == (("twin", "double"), ("faint", "hidden"))
    assert [item.group for item in found.faults] == [
        ("clear",),
        *[shown.groups[0]] * 2,
        *[shown.groups[1]] * 2,
    ]
    assert {item.fault: item.detection for item in found.faults} == shown.detection
    assert {item.fault: item.share for item in found.faults} == shown.shares
    assert (found.detected, found.detected_weighted) == (shown.detected, shown.detected_weighted)
    assert (found.isolated, found.isolated_weighted) == (shown.isolated, shown.isolated_weighted)


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


def test_never_separated_without_tests():
    model = model_of([fault("a"), fault("b")], [])
    found = figures(model)
    assert found.unseen == ("a", "b")
    assert found.groups == (("a", "b"),)
    assert (found.detected, found.isolated) == (0.0, 0.0)
