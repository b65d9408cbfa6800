"""Contradictory evidence: said to be contradictory, with the pair that clashes, never a crash."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.calc.isolation.jobs import events, known, suspects
from tests.calc.isolation.networks import check, fault, network, result

from baycalc.isolation.inference.conflicts import conflicts, discarded
from baycalc.isolation.inference.evidence import evidence_of
from baycalc.isolation.model.bayes_net import Model
from baycalc.isolation.model.read_network import from_data


def found(model, history):
    return conflicts(model, evidence_of(model, events(model, history)))


def ignored(model, history):
    return discarded(model, evidence_of(model, events(model, history)))


@pytest.fixture
def sure():
    """Two faults, each with two tests that never err."""
    tests = [
        check("a1", 5, {"a": 1.0}, false_alarm=0.0),
        check("a2", 5, {"a": 1.0}, false_alarm=0.0),
        check("b1", 5, {"b": 1.0}, false_alarm=0.0),
        check("any", 5, {"a": 1.0, "b": 1.0}, false_alarm=0.0),
    ]
    return Model(from_data(network([fault("a", 3), fault("b")], tests)))


def test_no_clash_where_all_is_well(sure):
    assert found(sure, [result("a1"), result("a2"), result("b1", False), result("any")]) == []
    assert ignored(sure, [result("a1"), result("a2")]) == ()


def test_two_faults_at_once_are_no_clash(sure):
    assert found(sure, [result("a1"), result("b1")]) == []


def test_the_pair_that_cannot_be(sure):
    history = [result("b1"), result("a1"), result("any"), result("a2", False)]
    (clash,) = found(sure, history)
    assert clash.places == (1, 3)
    assert clash.ratio == 0.0


def test_shares_leave_out_the_older_of_the_pair(sure):
    history = [result("a1"), result("a2", False)]
    assert ignored(sure, history) == (0,)
    assert known(sure, history).discarded == (0,)
    assert suspects(sure, history).marginals == pytest.approx({"a": 0.0, "b": 1.0})


def test_a_car_without_any_fault_is_a_clash(sure):
    """It came in, so it has some fault; the two results together leave none."""
    history = [result("a1", False), result("b1", False)]
    (clash,) = found(sure, history)
    assert clash.places == (0, 1)
    assert clash.ratio == 0.0


def test_one_that_is_impossible_alone():
    model = Model(from_data(network([fault("a")], [check("t", 5, {"a": 1.0}, false_alarm=0.0)])))
    (clash,) = found(model, [result("t", False)])
    assert clash.places == (0,)
    assert suspects(model, [result("t", False)]).marginals == {"a": 1.0}


def test_hardly_together():
    """Two good tests of one fault, one shown, one not: 1 in 1000 against base 0.1."""
    tests = [
        check("t", 5, {"a": 0.999}, false_alarm=0.0001),
        check("u", 5, {"a": 0.999}, false_alarm=0.0001),
    ]
    model = Model(from_data(network([fault("a"), fault("b")], tests)))
    (clash,) = found(model, [result("t"), result("u", False)])
    assert clash.places == (0, 1)
    assert 0.0 < clash.ratio < 0.01


def test_two_rare_faults_that_were_both_seen_are_no_clash():
    """Seldom as each is, they are not ten times rarer together than any two faults."""
    faults = [fault(name) for name in "abcdefgh"]
    tests = [check(name, 5, {name: 0.9}, false_alarm=0.0001) for name in "ab"]
    assert found(Model(from_data(network(faults, tests))), [result("a"), result("b")]) == []


def test_a_repair_in_between_is_no_clash(sure):
    history = [result("a1"), {"repair": "a"}, result("a1", False), {"recheck": "cured"}]
    assert found(sure, history) == []


def test_more_than_three_faults_are_a_clash():
    """Four faults are shown without error; only three can be there."""
    names = "abcd"
    tests = [check(name, 5, {name: 1.0}, false_alarm=0.0) for name in names]
    model = Model(from_data(network([fault(name) for name in names], tests)))
    (clash,) = found(model, [result(name) for name in names])
    assert clash.places == (0, 1, 2, 3)
    assert known(model, [result(name) for name in names]).discarded == (0,)


def test_what_has_no_part_in_a_clash_of_four_is_left_out():
    """A fifth result that any car gives stands before the four that cannot be together."""
    names = "abcd"
    tests = [check(name, 5, {name: 1.0}, false_alarm=0.0) for name in names]
    tests.append(check("any", 5, dict.fromkeys(names, 1.0), false_alarm=0.0))
    model = Model(from_data(network([fault(name) for name in names], tests)))
    (clash,) = found(model, [result(name) for name in ("any", *names)])
    assert clash.places == (1, 2, 3, 4)


RESULTS = st.lists(st.tuples(st.sampled_from(["a1", "a2", "b1", "any"]), st.booleans()), max_size=8)


@settings(max_examples=80, deadline=None)
@given(RESULTS, st.booleans())
def test_never_a_crash(results, repair):
    tests = [
        check(name, 5, shows, false_alarm=0.0)
        for name, shows in (
            ("a1", {"a": 1.0}),
            ("a2", {"a": 1.0}),
            ("b1", {"b": 1.0}),
            ("any", {"a": 1.0, "b": 1.0}),
        )
    ]
    model = Model(from_data(network([fault("a", 3), fault("b")], tests)))
    history = [result(name, shown) for name, shown in results]
    if repair:
        history[len(history) // 2 : len(history) // 2] = [{"repair": "a"}, {"recheck": "not cured"}]
    assert sum(share for _, share in suspects(model, history).sets) == pytest.approx(1.0)
    assert bool(known(model, history).discarded) <= bool(found(model, history))
