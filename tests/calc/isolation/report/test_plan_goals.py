"""How the jobs of a procedure begin, and what they cost at least."""

from tests.calc.isolation.networks import check, fault, network

from baycalc.isolation.model.bayes_net import Model
from baycalc.isolation.model.read_network import from_data
from baycalc.isolation.report.plan_goals import starts


def test_each_code_and_none(pump):
    found = {start.code: start for start in starts(pump)}
    assert list(found) == ["", "P0410", "P0411"]
    assert all(0.0 < start.at_least <= start.expected for start in found.values())


def test_the_lower_bound_by_hand():
    """Repaired and proven at once, as if known: 10 + 5 and 30 + 5, half each."""
    data = network([fault("a", 1, 10), fault("b", 1, 30)], [], base=1e-9, recheck_minutes=5)
    (start,) = starts(Model(from_data(data)))
    assert abs(start.at_least - 25.0) < 1e-6
    assert start.first == "repair a"


def test_a_test_of_what_hardly_anybody_suspects_is_told():
    """The only test that pays speaks of 3 % of the belief: a dear fault is ruled out."""
    faults = [fault("a", 97, 10, 5), fault("b", 3, 3000, 9000)]
    data = network(faults, [check("t", 1, {"b": 0.99})], base=1e-9, recheck_minutes=500)
    (start,) = starts(Model(from_data(data)))
    assert start.first == "test t" or start.speaks


def test_the_opening_is_passed():
    tests = [check("look", 2, {"a": 0.3}, opening=True), check("t", 5, {"a": 0.9})]
    faults = [fault("a", 1, 60, 200), fault("b", 1, 60, 200)]
    opening = [{"id": "battery", "title": "Battery", "minutes": 3}]
    (start,) = starts(Model(from_data(network(faults, tests, opening=opening))))
    assert start.first == "test t"
