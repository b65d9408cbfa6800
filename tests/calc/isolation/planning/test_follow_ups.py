"""The closing rule: causes before the part is fitted, knock-ons before the job is closed."""

import pytest
from tests.calc.isolation.jobs import case_of, next_action
from tests.calc.isolation.networks import Json, check, fault, network, result

from baycalc.isolation.model.bayes_net import Key, Model
from baycalc.isolation.model.read_network import from_data
from baycalc.isolation.planning.confirmation import confirmation_of
from baycalc.isolation.planning.follow_ups import FollowUp, follow_ups

CODE = {"code": "P0410", "state": "stored"}
FOUND = [CODE, result("safe", False), result("relay-swap", False), result("pump-feed")]


def asked_in(model: Model, *events: Json) -> dict[str, FollowUp]:
    return {item.fault: item for item in follow_ups(case_of(model, list(events)))}


def questions(model: Model, *events: Json) -> dict[str, FollowUp]:
    """Those that are due, or would be could a test be done."""
    items = asked_in(model, *events)
    return {n: one for n, one in items.items() if one.due or one.state == "untestable"}


class TestCauseBeforeThePart:
    def test_the_valve_is_asked_for(self, pump):
        asked = questions(pump, *FOUND)["valve"]
        assert (asked.because, asked.kind, asked.state) == ("pump", "cause", "before fitting")
        assert asked.tests == ("valve-hold",)

    def test_and_tested_before_the_pump_is_fitted(self, pump):
        action = next_action(pump, FOUND)
        assert (action.kind, action.id) == ("test", "valve-hold")
        assert action.question is not None
        assert action.question.fault == "valve"

    def test_then_the_pump_is_fitted(self, pump):
        action = next_action(pump, [*FOUND, result("valve-hold", False)])
        assert (action.kind, action.id) == ("repair", "pump")

    def test_a_bad_valve_is_repaired_too(self, pump):
        history = [*FOUND, result("valve-hold")]
        assert next_action(pump, history).id in ("valve", "pump")
        history += [{"repair": "valve"}]
        assert (next_action(pump, history).kind, next_action(pump, history).id) == (
            "repair",
            "pump",
        )

    def test_a_test_that_cannot_be_done_is_not_asked_again(self, pump):
        action = next_action(pump, [*FOUND, result("valve-hold", "skipped")])
        assert (action.kind, action.id) == ("repair", "pump")

    def test_what_the_found_fault_shows_itself_cannot_clear_its_cause(self):
        """The only test of the cause is shown by the found fault as well: asked afterwards."""
        data = network(
            [
                fault("cause", 1, 20, leads_to={"effect": {"chance": 0.9}}),
                fault("effect", 9, 20, recheck=1.0),
            ],
            [
                check("both", 3, {"cause": 0.9, "effect": 0.99}),
                check("effect-only", 3, {"effect": 0.99}),
            ],
            recheck_minutes=30,
        )
        model = Model(from_data(data))
        found = [result("effect-only")]
        assert questions(model, *found)["cause"].tests == ()
        assert next_action(model, found).id == "effect"
        fitted = [*found, {"repair": "effect"}]
        assert questions(model, *fitted)["cause"].tests == ("both",)
        assert questions(model, *fitted)["cause"].state == "before closing"


@pytest.mark.parametrize(("minutes", "kind"), [(4, "test"), (60, "repair")])
def test_a_knock_on_is_looked_for_first_where_that_costs_less_than_its_share(minutes, kind):
    """Share 0.3 of a bill of 40 and a proof of 15: the test pays at 4 minutes, not at 60."""
    faults = [
        fault("pump", 4, 60, 250, leads_to={"relay": {"chance": 0.3}}),
        fault("relay", 1, 20, 20),
    ]
    tests = [check("feed", 8, {"pump": 0.95}), check("swap", minutes, {"relay": 0.95})]
    model = Model(from_data(network(faults, tests, recheck_minutes=15)))
    assert next_action(model, [result("feed")]).kind == kind


class TestKnockOnAfterTheRepair:
    """The car that got a new pump, and whose relay then died: found, explained, asked for."""

    FITTED = (*FOUND, result("valve-hold", False), {"repair": "pump"})

    def test_the_relay_is_asked_for_again(self, pump):
        """Tested good before the pump was fitted: that does not count any more."""
        asked = questions(pump, *self.FITTED)["relay"]
        assert (asked.because, asked.kind, asked.state) == ("pump", "knock-on", "before closing")
        assert asked.tests == ("relay-swap",)
        assert asked.share == pytest.approx(0.3, abs=0.03)

    def test_it_is_tested_before_a_proof_that_may_be_in_vain(self, pump):
        """4 minutes against 30 % of a proof of 15."""
        action = next_action(pump, list(self.FITTED))
        assert (action.id, action.question and action.question.fault) == ("relay-swap", "relay")

    def test_good_then_proven_then_closed(self, pump):
        history = [*self.FITTED, result("relay-swap", False)]
        assert questions(pump, *history) == {}
        assert next_action(pump, history).kind == "recheck"
        assert next_action(pump, [*history, {"recheck": "cured"}]).kind == "close"

    def test_dead_then_fitted(self, pump):
        action = next_action(pump, [*self.FITTED, result("relay-swap")])
        assert (action.kind, action.id) == ("repair", "relay")

    def test_the_job_is_not_closed_while_it_is_untested(self, pump):
        """Proven, but the proof misses a dead relay now and then: 4 % are left."""
        action = next_action(pump, [*self.FITTED, {"recheck": "cured"}])
        assert (action.kind, action.id) == ("test", "relay-swap")
        assert action.question is not None

    def test_not_cured_leads_to_the_relay(self, pump):
        """It was good before the pump was fitted, so it is tested anew before it is bought."""
        history = [*self.FITTED, {"recheck": "not cured"}]
        action = next_action(pump, history)
        assert (action.kind, action.id) == ("test", "relay-swap")
        action = next_action(pump, [*history, result("relay-swap")])
        assert (action.kind, action.id) == ("repair", "relay")


def test_a_repair_in_vain_asks_nothing(pump):
    history = [CODE, result("safe", False), result("pump-feed", False), {"repair": "pump"}]
    assert questions(pump, *history, {"recheck": "not cured"}) == {}


def test_what_looks_for_a_fault(pump):
    rules = confirmation_of(pump)
    relay = 1 << pump.number["relay"]
    assert [key for key, mask in rules.looks_for.items() if mask & relay] == [
        Key("test", "relay-swap", "seen")
    ]


def test_a_weak_test_is_better_than_none():
    tests = [check("t", 1, {"a": 0.3}), check("u", 1, {"a": 0.2})]
    rules = confirmation_of(Model(from_data(network([fault("a"), fault("b")], tests))))
    assert [key.name for key, mask in rules.looks_for.items() if mask & 1] == ["t"]
    assert not any(rules.clears.values())


def test_what_was_not_tested_is_said_so(pump):
    """The fuse is no knock-on of the pump; the relay is, and unlikely once it was swapped."""
    history = [*TestKnockOnAfterTheRepair.FITTED, result("relay-swap", False)]
    assert asked_in(pump, *history)["relay"].state == "cleared"
    assert asked_in(pump, *history, {"recheck": "cured"})["valve"].state == "cleared"


def test_a_follow_up_can_be_left_on_purpose(pump):
    history = [*TestKnockOnAfterTheRepair.FITTED, {"recheck": "cured"}]
    assert asked_in(pump, *history)["relay"].due
    assert asked_in(pump, *history, {"leave": "relay"})["relay"].state == "left"
    assert next_action(pump, [*history, {"leave": "relay"}]).kind == "close"


def test_a_knock_on_that_no_test_sees_does_not_hold_the_job_up():
    data = network(
        [fault("pump", 9, leads_to={"relay": {"chance": 0.1, "later": 0.4}}), fault("relay", 1)],
        [check("t", 1, {"pump": 0.99})],
    )
    model = Model(from_data(data))
    history = [result("t"), {"repair": "pump"}]
    assert questions(model, *history)["relay"].tests == ()
    assert next_action(model, [*history, {"recheck": "cured"}]).kind == "close"
