"""The plan as a tree: whole, consistent, and ending in a proven repair."""

from random import Random

import pytest
from tests.calc.isolation.jobs import events
from tests.calc.isolation.networks import check, fault, network, random_procedure, result

from baycalc.isolation.model.bayes_net import Model
from baycalc.isolation.model.read_network import from_data
from baycalc.isolation.planning.case import open_case
from baycalc.isolation.planning.decide import decide
from baycalc.isolation.report.plan_tree import PlanNode, guess_cost, plan_tree

CODE = {"code": "P0410", "state": "stored"}


def nodes(node: PlanNode) -> list[PlanNode]:
    return [node, *(inner for branch in node.branches for inner in nodes(branch.node))]


@pytest.fixture
def tree(pump) -> PlanNode:
    return plan_tree(pump, events(pump, [CODE]))


def test_chances_of_the_branches_sum_to_one(tree):
    for node in nodes(tree):
        if node.branches:
            assert sum(branch.chance for branch in node.branches) == pytest.approx(1.0)
            for branch in node.branches:
                assert branch.node.share == pytest.approx(node.share * branch.chance)


def test_costs_add_up(tree):
    for node in nodes(tree):
        if node.branches:
            for number in (0, 1):
                after = sum(b.chance * b.node.to_go[number] for b in node.branches)
                assert node.to_go[number] == pytest.approx(node.spent[number] + after)


def test_every_end_is_proven_or_handed_on_or_rare(tree):
    ends = [node for node in nodes(tree) if not node.branches]
    assert {node.end for node in ends} == {"proven", "handed on", "rare"}
    assert all(node.share < 0.01 for node in ends if node.end == "rare")
    assert sum(node.share for node in ends if node.end == "proven") > 0.8


def test_each_point_is_the_next_action_of_its_history(pump, tree):
    node = tree
    while node.case is not None and node.branches:
        action = decide(open_case(pump, node.case.known.events)).action
        assert (node.action.kind, node.action.id) == (action.kind, action.id)
        node = node.branches[0].node


def test_depth_and_share_prune(pump):
    assert (
        max(len(nodes(plan_tree(pump, events(pump, [CODE]), depth=depth))) for depth in (1, 2)) < 8
    )
    small, large = (
        plan_tree(pump, events(pump, [CODE]), rare=0.2),
        plan_tree(pump, events(pump, [CODE]), rare=0.01),
    )
    assert len(nodes(small)) < len(nodes(large))


def test_two_faults_and_one_sure_test_by_hand():
    """Test 1 minute, then the right repair (10 or 30), half each: 1 + .5 x 10 + .5 x 30."""
    data = network(
        [fault("a", 1, 10), fault("b", 1, 30)],
        [check("t", 1, {"a": 1.0}, false_alarm=0.0)],
        base=1e-9,
    )
    model = Model(from_data(data))
    assert plan_tree(model, []).to_go.money == pytest.approx(1 + 20, abs=1e-6)
    assert guess_cost(model, []).money == pytest.approx(10 + 0.5 * 30, abs=1e-6)


def test_a_test_that_saves_nothing_is_left_out():
    """The plan is then fitting by guess, but for the proof that one car in a hundred passes."""
    data = network([fault("a", 1, 10), fault("b", 1, 30)], [check("t", 9, {"a": 0.6})], base=1e-9)
    node = plan_tree(Model(from_data(data)), [])
    assert (node.action and node.action.kind) == "repair"
    assert node.to_go == pytest.approx(guess_cost(Model(from_data(data)), []), rel=0.01)


@pytest.mark.parametrize("seed", range(8))
def test_the_plan_is_cheaper_than_guesswork(seed):
    model = Model(from_data(random_procedure(Random(seed), base=1e-9)))
    assert plan_tree(model, []).to_go.money <= guess_cost(model, []).money + 1e-6


def test_all_results_of_a_test_with_two_observations():
    test = check("t", 1, {"a": 0.9})
    test["observations"].append({"id": "heard", "shows": {"b": 0.9}, "false_alarm": 0.1})
    data = network([fault("a", 1, 60), fault("b", 1, 60), fault("c", 1, 60)], [test])
    node = plan_tree(Model(from_data(data)), [])
    assert (node.action and node.action.id) == "t"
    assert len(node.branches) == 4
    assert [branch.good for branch in node.branches].count(True) == 1
    assert "Test t: abnormal; Test t: abnormal" in {branch.text for branch in node.branches}


def test_a_test_of_which_no_outcome_is_frequent_has_a_way():
    """Four answers that are as often one thing as the other: each of the sixteen ends is rare."""
    test = check("t", 1, {"a": 0.9})
    sides = ({"a": 0.5, "b": 0.5}, {"b": 0.5, "c": 0.5}, {"a": 0.5, "c": 0.5})
    test["observations"] += [
        {"id": f"seen{number}", "shows": shows, "false_alarm": 0.4}
        for number, shows in enumerate(sides)
    ]
    data = network([fault("a", 1, 60), fault("b", 1, 60), fault("c", 1, 60)], [test])
    node = plan_tree(Model(from_data(data)), [], rare=0.9)
    assert (node.action and node.action.id) == "t"
    assert [branch.text for branch in node.branches][1:] == ["several at once"]
    assert sum(branch.chance for branch in node.branches) == pytest.approx(1.0)


def test_from_the_middle_of_a_job(pump):
    node = plan_tree(pump, events(pump, [CODE, result("safe", False), result("fuse-look")]))
    assert node.suspects[0][0] == "fuse"
    assert node.share == 1.0
