"""The interface of fault isolation: plain JSON in, plain JSON out."""

import json

import pytest
from tests.calc.isolation.networks import check, fault, network, result

from baycalc import isolation

CODE = {"code": "P0410", "stored": True}
JOB = [
    CODE,
    result("safe", False),
    result("relay-swap", False),
    result("pump-feed"),
    result("valve-hold", False),
    {"repair": "pump"},
]


def plain(answer):
    """What survives JSON unchanged."""
    assert json.loads(json.dumps(answer, allow_nan=False)) == answer
    return answer


def test_a_whole_job(pump_data):
    """Followed to its end by what it asks for: the pump is bad, then the relay dies."""
    history, asked = [CODE], []
    answers = {"pump-feed": "shown", "relay-swap": "not shown"}
    for _ in range(20):
        answer = plain(isolation.evaluate(pump_data, history))
        if answer["finished"]:
            break
        step = answer["next"]
        asked.append((step["kind"], step["id"]))
        if step["kind"] == "test":
            history.append(result(step["id"], answers.get(step["id"]) == "shown"))
        elif step["kind"] == "repair":
            history.append({"repair": step["id"]})
            answers = {"relay-swap": "shown" if step["id"] == "pump" else "not shown"}
        else:
            history.append({"recheck": "cured"})
    assert answer["finished"]
    assert answer["next"]["kind"] == "close"
    assert asked[-3:] == [("test", "relay-swap"), ("repair", "relay"), ("recheck", "")]
    assert ("test", "valve-hold") in asked
    assert answer["to_go"] == {"minutes": 0.0, "money": 0.0}


def test_the_dead_relay_is_explained(pump_data):
    answer = isolation.evaluate(pump_data, [*JOB, {"recheck": "not cured"}])
    first = answer["suspects"][0]
    assert (first["fault"], first["label"]) == ("relay", "relay is bad")
    assert first["knock_on_of"] == ["pump"]
    (repaired,) = [row for row in answer["suspects"] if row["fault"] == "pump"]
    assert repaired["repaired"] > 0.95
    assert repaired["share"] == 0.0


def test_what_is_asked_before_closing(pump_data):
    (question, *_) = isolation.evaluate(pump_data, JOB)["open_questions"]
    assert (question["fault"], question["because"], question["when"]) == ("relay", "pump", "after")
    assert question["tests"] == ["relay-swap"]
    assert question["sentence"] == (
        "relay is bad (31 %) can come from pump is bad: clear it before the job is closed"
    )


def test_sets_have_a_label(pump_data):
    events = [CODE, result("pump-feed"), result("relay-swap")]
    first = isolation.evaluate(pump_data, events)["sets"][0]
    assert first["faults"] == ["pump", "relay"]
    assert first["label"] == "pump is bad and relay is bad"


def test_spent_and_to_go(pump_data):
    answer = isolation.evaluate(pump_data, [CODE, result("fuse-look", False)])
    assert answer["spent"] == {"minutes": 2.0, "money": 2.0}
    assert 0 < answer["to_go"]["minutes"] < answer["to_go"]["money"]


def test_to_go_agrees_with_the_plan(pump_data):
    """One is worked out in the page, the other at build time: within a tenth."""
    now = isolation.evaluate(pump_data, [CODE])["to_go"]
    whole = isolation.plan(pump_data, ["P0410"])["expected"]
    assert now["minutes"] == pytest.approx(whole["minutes"], rel=0.1)
    assert now["money"] == pytest.approx(whole["money"], rel=0.1)


def test_alternatives_are_ranked(pump_data):
    ranked = isolation.evaluate(pump_data, [CODE])["alternatives"]
    assert ranked[0]["extra"] == 0.0
    assert [row["money"] for row in ranked] == sorted(row["money"] for row in ranked)
    assert {"test", "repair"} == {row["kind"] for row in ranked}


@pytest.fixture
def sure():
    tests = [check(name, 5, {"a": 1.0}, false_alarm=0.0) for name in ("t", "u")]
    return network([fault("a"), fault("b")], tests)


def test_a_contradiction_names_the_pair(sure):
    answer = plain(isolation.evaluate(sure, [result("t"), result("u", False)]))
    assert answer["contradictions"] == [
        {
            "events": [0, 1],
            "ratio": 0.0,
            "sentence": "Test t (seen shown) and Test u (seen not shown) cannot be true together: "
            "check again",
        }
    ]
    assert answer["left_out"] == [0]


@pytest.mark.parametrize(
    ("history", "sentence"),
    [
        ([{"code": "P0411", "stored": True}], "P0411 stored cannot be true"),
        ([CODE, result("t", False)], "P0410 stored and Test t (seen not shown) cannot be true"),
        ([CODE | {"stored": False}, result("t")], "P0410 not stored and Test t (seen shown)"),
    ],
    ids=["alone", "stored", "not stored"],
)
def test_a_contradiction_of_a_code_names_it(sure, history, sentence):
    """No fault sets the one code, and a fault that is present always sets the other."""
    codes = {code: {"false_alarm": 0.0} for code in ("P0410", "P0411")}
    data = sure | {"codes": codes, "faults": [fault("a", sets={"P0410": 1.0}), fault("b")]}
    (conflict,) = isolation.evaluate(data, history)["contradictions"]
    assert conflict["events"] == [*range(len(history))]
    assert conflict["sentence"].startswith(sentence)


def test_bad_input(pump_data):
    with pytest.raises(ValueError, match=r"^history\[0\]: expected a fault, got 'radio'$"):
        isolation.evaluate(pump_data, [{"repair": "radio"}])
    with pytest.raises(ValueError, match=r"^faults: expected a list, got 3\nfaults: expected at"):
        isolation.evaluate(pump_data | {"faults": 3, "tests": []}, [])
    with pytest.raises(ValueError, match="expected a code of the network, got 'P0999'"):
        isolation.plan(pump_data, ["P0999"])


def test_plan_is_nested(pump_data):
    answer = plain(isolation.plan(pump_data, {"P0410": True, "P0411": False}))
    node = answer["tree"]
    assert node["share"] == 1.0
    while node["branches"]:
        assert node["reason"]
        node = node["branches"][0]["node"]
    assert node["end"] == "proven"
    assert answer["expected"]["money"] < answer["guess"]["money"]


def test_figures_and_simulation(pump_data):
    found = plain(isolation.figures(pump_data))
    assert [row["fault"] for row in found["faults"]] == ["valve", "pump", "relay", "fuse"]
    shown = plain(isolation.diagnosability(pump_data))
    assert [*shown["detection"]] == ["valve", "pump", "relay", "fuse"]
    assert shown["unseen"] == []
    compared = plain(isolation.simulation(pump_data, 200, seed=1))
    assert list(compared) == ["plan", "guess", "page"]
    assert compared["plan"]["right"] > compared["guess"]["right"]
