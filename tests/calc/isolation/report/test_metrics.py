"""What simulated cars tell an author, on procedures small enough to see the answer."""

import pytest
from tests.calc.isolation.networks import fault, network

from baycalc.isolation.model.bayes_net import Model
from baycalc.isolation.model.read_network import from_data
from baycalc.isolation.report.metrics import figures


def model_of(faults, tests, **more):
    return Model(from_data(network(faults, tests, recheck_minutes=5, **more)))


@pytest.fixture(scope="module")
def found(five):
    return figures(five)


def test_never_pays(found):
    assert found.never_pay == ("dear",)


def test_each_fault(found):
    assert [item.fault for item in found.faults] == ["clear", "twin", "double", "faint", "hidden"]
    assert found.faults[0].right >= 0.9


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
