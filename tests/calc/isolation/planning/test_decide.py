"""The next action: against exhaustive search, and the rules that stand above the figures."""

from random import Random

import pytest
from tests.calc.isolation.against_optimum import ratios
from tests.calc.isolation.jobs import case_of, decision, next_action
from tests.calc.isolation.networks import Json, check, fault, network, random_procedure, result

from baycalc.isolation.model.bayes_net import Model
from baycalc.isolation.model.read_network import from_data
from baycalc.isolation.planning.decide import decide

SAMPLE = range(8)
"""Of the random procedures; `make bench` takes all of them."""
CODE = {"code": "P0410", "state": "stored"}


def test_plan_against_exhaustive_search():
    """Both sides under the same rule: no part is bought before a test has looked for its fault."""
    plan, guess = ratios(SAMPLE)
    assert min(plan) >= 1.0 - 1e-6
    assert sum(plan) / len(plan) <= 1.005
    assert max(plan) <= 1.03
    assert sum(guess) / len(guess) > 1.2


class TestSeenFirst:
    """No part is bought before a test has looked for its fault."""

    DEAR = fault("dear", 50, 20, 100, sets={"P0410": 0.9})
    CHEAP = fault("cheap", 1, 5, 5, sets={"P0410": 0.1})

    def model(self, *tests: Json, **of_dear: Json) -> Model:
        faults = [self.DEAR | of_dear, self.CHEAP]
        codes = {"P0410": {"false_alarm": 0.001}}
        return Model(from_data(network(faults, [*tests], codes=codes, recheck_minutes=10)))

    def test_a_code_alone_sells_no_part(self):
        model = self.model(check("look", 5, {"dear": 0.95}))
        action = next_action(model, [CODE])
        assert (action.kind, action.id, action.question.kind) == ("test", "look", "itself")
        assert next_action(model, [CODE, result("look")]).kind == "repair"

    def test_a_reading_too_close_to_call_has_looked_for_nothing(self):
        near = result("look", {"likelihood": [0.6, 0.4]})
        model = self.model(check("look", 5, {"dear": 0.95}), check("glance", 9, {"dear": 0.9}))
        assert next_action(model, [CODE, near]).id == "glance"
        assert next_action(model, [CODE, near, result("glance")]).kind == "repair"

    def test_what_the_job_will_cost_counts_the_look(self):
        model = self.model(check("look", 5, {"dear": 0.95}))
        decision = decide(case_of(model, [CODE]))
        assert decision.action.move in decision.moves
        assert decision.action.move.cost > 5 + 20 + 100 + 10

    def test_a_test_that_was_not_done_cannot_be_asked_again(self):
        model = self.model(check("look", 5, {"dear": 0.95}))
        assert next_action(model, [CODE, result("look", "skipped")]).kind == "repair"

    def test_any_test_that_showed_it_is_enough(self):
        tests = check("look", 5, {"dear": 0.95}), check("glance", 1, {"dear": 0.3})
        model = self.model(*tests)
        assert next_action(model, [CODE, result("glance")]).kind == "repair"
        assert next_action(model, [CODE, result("glance", False)]).kind == "test"

    @pytest.mark.parametrize(
        ("minutes", "of_dear"),
        [
            (5, {"repair": {"minutes": 20, "price": 0}}),
            (131, {}),
        ],
        ids=["nothing to buy", "looking costs more"],
    )
    def test_not_where_it_makes_no_sense(self, minutes, of_dear):
        model = self.model(check("look", minutes, {"dear": 0.95}), **of_dear)
        assert next_action(model, [CODE]).kind == "repair"

    def test_not_where_no_test_tells_it_from_the_others(self):
        model = self.model(check("look", 5, {"dear": 0.95, "cheap": 0.95}))
        assert next_action(model, [CODE]).kind == "repair"


class TestOrder:
    """What must be done before a test is done before it."""

    def test_a_test_is_never_offered_before_what_protects(self, pump):
        for history in ([CODE], [CODE, result("fuse-look", False)]):
            for move in decision(pump, history).moves:
                if move.kind == "test":
                    test = pump.network.tests[move.number]
                    assert not test.after
        action = next_action(pump, [CODE, result("fuse-look", False)])
        assert (action.kind, action.id) == ("test", "safe")
        assert action.serves in ("relay-swap", "pump-feed")

    def test_then_it_is(self, pump):
        action = next_action(pump, [CODE, result("fuse-look", False), result("safe", False)])
        assert action.id in ("relay-swap", "pump-feed")

    def test_not_where_it_could_not_be_done(self, pump):
        events = [CODE, result("fuse-look", False), result("safe", "skipped")]
        offered = {
            pump.network.tests[move.number].id
            for move in decision(pump, events).moves
            if move.kind == "test"
        }
        assert offered == set()

    def test_a_chain_of_tests_starts_at_its_first(self):
        data = network(
            [fault("a", 1, 60, 200), fault("b", 1, 60, 200)],
            [
                check("t", 1, {"a": 0.99}, after=["second"]),
                check("second", 1, {}, after=["first"]),
                check("first", 1, {}),
            ],
        )
        action = next_action(Model(from_data(data)), [])
        assert (action.id, action.serves) == ("first", "t")

    def test_a_preparation_without_observation(self):
        ready = {"id": "ready", "title": "Make ready", "minutes": 1}
        tests = [check("t", 1, {"a": 0.99}, after=["ready"]), ready]
        model = Model(from_data(network([fault("a", 1, 60, 99), fault("b", 1, 60, 99)], tests)))
        assert next_action(model, []).id == "ready"
        assert next_action(model, [{"test": "ready", "result": "done"}]).id == "t"
        assert next_action(model, [{"test": "ready", "result": "skipped"}]).kind == "repair"


class TestEnd:
    def test_a_sure_suspect_is_repaired(self):
        data = network([fault("a", 99), fault("b", 1)], [check("t", 30, {"a": 0.9})])
        assert next_action(Model(from_data(data)), []).kind == "repair"

    def test_a_repair_is_proven(self):
        model = Model(from_data(network([fault("a", 99), fault("b", 1)], [], recheck_minutes=9)))
        assert next_action(model, [{"repair": "a"}]).kind == "recheck"

    def test_a_proven_repair_closes_the_job(self):
        model = Model(from_data(network([fault("a"), fault("b")], [])))
        assert next_action(model, [{"repair": "a"}, {"recheck": "cured"}]).kind == "close"

    def test_not_cured_goes_on(self):
        model = Model(from_data(network([fault("a"), fault("b")], [])))
        action = next_action(model, [{"repair": "a"}, {"recheck": "not cured"}])
        assert (action.kind, action.id) == ("repair", "b")

    def test_cured_without_a_repair_is_not_the_end(self):
        model = Model(from_data(network([fault("a"), fault("b")], [])))
        assert next_action(model, [{"recheck": "cured"}]).kind == "repair"

    def test_two_known_faults_are_repaired_before_the_proof(self):
        tests = [check(name, 2, {name: 0.999}, false_alarm=0.001) for name in "ab"]
        faults = [fault("a", 1, 10), fault("b", 1, 10), fault("c", 1, 10)]
        data = network(faults, tests, recheck_minutes=60)
        history = [result("a"), result("b"), {"repair": "a"}]
        action = next_action(Model(from_data(data)), history)
        assert (action.kind, action.id) == ("repair", "b")


def test_more_faults_than_the_planner_takes_sets():
    """Fifty faults, one test each for the likeliest: it still ends."""
    faults = [fault(f"f{number}", 51 - number) for number in range(50)]
    tests = [check(f"t{number}", 2, {f"f{number}": 0.95}) for number in range(3)]
    model = Model(from_data(network(faults, tests, recheck_minutes=5)))
    action = next_action(model, [result("t0"), result("t1", False), result("t2", False)])
    assert (action.kind, action.id) == ("repair", "f0")
    fitted = [result("t0"), {"repair": "f0"}]
    assert next_action(model, fitted).kind == "recheck"
    assert next_action(model, [*fitted, {"recheck": "cured"}]).kind == "close"


def test_a_set_up_that_is_there_is_used():
    """The same two tests; the set-up of one is there already."""
    tests = [
        check("look", 1, {}, setup="up"),
        check("here", 5, {"a": 0.95}, setup="up"),
        check("there", 5, {"a": 0.95}, setup="down"),
    ]
    faults = [fault("a", 1, 60, 200), fault("b", 1, 60, 200)]
    setups = {"up": {"minutes": 10}, "down": {"minutes": 10}}
    model = Model(from_data(network(faults, tests, setups=setups)))
    assert next_action(model, [result("look", False)]).id == "here"


@pytest.mark.parametrize("seed", range(5))
def test_the_answer_does_not_depend_on_the_order_of_results(seed):
    data = random_procedure(Random(seed), base=0.1)
    model = Model(from_data(data))
    history = [result(f"t{number}", number % 2 == 0) for number in range(3)]
    turned = [*history[:2][::-1], history[2]]
    one, other = next_action(model, history), next_action(model, turned)
    assert (one.kind, one.id, one.serves) == (other.kind, other.id, other.serves)


class TestCauseFirst:
    """What was found is mended from its cause on: the new part would die like the old one."""

    STORY = network(
        [
            fault("fuse", minutes=2, price=5),
            fault("pump", minutes=60, price=200, leads_to={"fuse": {"chance": 0.8}}),
            fault("valve", minutes=30, price=80, leads_to={"pump": {"chance": 0.8}}),
        ],
        [check(name, 5, {name: 0.99}) for name in ("fuse", "pump", "valve")],
        recheck_minutes=20,
    )

    def test_a_chain_of_causes_is_followed_to_its_root(self):
        history = [result(name) for name in ("fuse", "pump", "valve")]
        mended = []
        model = Model(from_data(self.STORY))
        while (action := next_action(model, history)).kind == "repair":
            mended.append(action.id)
            history.append({"repair": action.id})
        assert mended == ["valve", "pump", "fuse"]

    def test_faults_that_cause_each_other_end(self):
        ring = network(
            [
                fault("one", leads_to={"two": {"chance": 0.9}}),
                fault("two", leads_to={"one": {"chance": 0.9}}),
            ],
            [check(name, 5, {name: 0.99}) for name in ("one", "two")],
        )
        action = next_action(Model(from_data(ring)), [result("one"), result("two")])
        assert action.kind == "repair"
