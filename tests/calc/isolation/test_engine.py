"""The interface of fault isolation: plain JSON in, plain JSON out, every text ready to show."""

import json

import pytest
from tests.calc.isolation.networks import Json, check, fault, network, result

from baycalc import isolation

CODE = {"code": "P0410", "state": "stored"}
JOB = [
    CODE,
    result("safe", False),
    result("relay-swap", False),
    result("pump-feed"),
    result("valve-hold", False),
    {"repair": "pump"},
]


def answer(data: Json, history: list[Json]) -> Json:
    """What the engine answers, and survives JSON unchanged."""
    found = isolation.evaluate(isolation.open_network(data), history)
    assert json.loads(json.dumps(found, allow_nan=False)) == found
    return found


def test_a_whole_job(pump_data):
    """Followed to its end by what it asks for: the pump is bad, then the relay dies."""
    history, asked = [CODE], []
    answers = {"pump-feed": True, "relay-swap": False}
    for _ in range(20):
        found = answer(pump_data, history)
        if found["finished"]:
            break
        step = found["next"]
        asked.append((step["kind"], step["id"]))
        if step["kind"] == "test":
            history.append(result(step["id"], answers.get(step["id"], False)))
        elif step["kind"] == "repair":
            history.append({"repair": step["id"]})
            answers = {"relay-swap": step["id"] == "pump"}
        else:
            history.append({"recheck": "cured"})
    assert (found["end"], found["next"]["kind"]) == ("closed", "close")
    assert asked[-3:] == [("test", "relay-swap"), ("repair", "relay"), ("recheck", "")]
    assert ("test", "valve-hold") in asked
    assert found["to_go"] == {"minutes": 0.0, "text": ""}
    assert found["spent"]["text"].startswith("Time so far: ")


def test_an_empty_history_has_an_answer(pump_data):
    found = answer(pump_data, [])
    assert found["next"]["kind"] == "test"
    assert found["suspects"][0]["share_text"].endswith("\u00a0%")


def test_first_answers_are_those_of_the_job(pump_data):
    first = isolation.first_answers(pump_data)
    assert list(first) == ["", "P0410", "P0411"]
    assert first["P0411"] == answer(
        pump_data, [{"code": "P0411", "state": "stored"}, {"codes": "all"}]
    )
    assert first[""] == answer(pump_data, [])


def test_all_codes_told_is_evidence(pump_data):
    """P0411 comes of the valve alone: told absent, the valve is less likely."""
    some = answer(pump_data, [CODE])["suspects"]
    told = answer(pump_data, [CODE, {"codes": "all"}])["suspects"]
    shares = [{row["fault"]: row["share"] for row in rows} for rows in (some, told)]
    assert shares[1]["valve"] < shares[0]["valve"]


def test_a_network_that_is_not_open():
    assert isolation.evaluate("nothing", []) == {"error": "unknown network"}


def test_the_dead_relay_is_likeliest(pump_data):
    first = answer(pump_data, [*JOB, {"recheck": "not cured"}])["suspects"][0]
    assert (first["fault"], first["text"]) == ("relay", "Relay is bad")


def test_what_is_asked_before_closing(pump_data):
    (item,) = [row for row in answer(pump_data, JOB)["follow_ups"] if row["tests"]]
    assert (item["fault"], item["because"], item["state"]) == ("relay", "pump", "before closing")
    assert item["tests"] == ["relay-swap"]
    assert item["text"] == (
        "“relay is bad” (31\u00a0%) can come from “pump is bad”: test it before the job is closed."
    )


def test_sets_of_several_faults_are_told(pump_data):
    found = answer(pump_data, [CODE, result("pump-feed"), result("relay-swap")])
    assert found["sets"][0].startswith("Together: “pump is bad” and “relay is bad” (")
    assert found["suspects_note"]


def test_the_estimate_stands_before_the_first_repair(pump_data):
    """Pump and relay are found: 250 + 20 of parts, 60 + 5 + 15 minutes at 1 a minute.

    Spent before: set-up 5, test 8, test 4.
    """
    history = [CODE, result("pump-feed"), result("relay-swap"), result("valve-hold", False)]
    found = answer(pump_data, [*history, result("fuse-look", False)])
    assert found["next"]["kind"] == "repair"
    assert found["to_go"]["minutes"] > 80
    assert found["to_go"]["text"].startswith("Expected to go: ")
    estimate = found["estimate"]
    assert estimate["uncertain"] == []
    assert {row["fault"] for row in estimate["parts"]} == {"pump", "relay"}
    assert estimate["minutes"] == "1\u00a0h\u00a020\u00a0min"
    assert estimate["money"] == str(270 + 80 + 5 + 8 + 4 + 6 + 2)
    assert answer(pump_data, [*history, {"repair": "pump"}])["estimate"] is None


@pytest.fixture
def sure():
    tests = [check(name, 5, {"a": 1.0}, false_alarm=0.0) for name in ("t", "u")]
    return network([fault("a"), fault("b")], tests)


def test_a_contradiction_names_the_pair(sure):
    found = answer(sure, [result("t"), result("u", False)])
    assert found["contradictions"] == [
        {
            "places": [0, 1],
            "text": "“Test t: Test t: abnormal” and “Test u: Test u: normal” cannot be true "
            "together: check again.",
        }
    ]
    assert found["discarded"] == [
        {
            "place": 0,
            "text": "Left out, as newer entries contradict it: Test t: Test t: abnormal.",
        }
    ]


@pytest.mark.parametrize(
    ("history", "text"),
    [
        ([{"code": "P0411", "state": "stored"}], "“P0411 stored” cannot be true"),
        ([CODE, result("t", False)], "“P0410 stored” and “Test t: Test t: normal” cannot be true"),
        ([CODE | {"state": "absent"}, result("t")], "“P0410 not stored” and “Test t: Test t: ab"),
    ],
    ids=["alone", "stored", "not stored"],
)
def test_a_contradiction_of_a_code_names_it(sure, history, text):
    """No fault sets the one code, and a fault that is present always sets the other."""
    codes = {code: {"false_alarm": 0.0} for code in ("P0410", "P0411")}
    data = sure | {"codes": codes, "faults": [fault("a", sets={"P0410": 1.0}), fault("b")]}
    (conflict,) = answer(data, history)["contradictions"]
    assert conflict["places"] == [*range(len(history))]
    assert conflict["text"].startswith(text)


def test_a_code_told_absent_that_cannot_be():
    faults = [fault("a", sets={"P0410": 1.0, "P0411": 1.0})]
    codes = {"P0410": {"false_alarm": 0.0}, "P0411": {"false_alarm": 0.0}}
    found = answer(network(faults, [], codes=codes), [CODE, {"codes": "all"}])
    assert [row["place"] for row in found["discarded"]] == [-1]
    assert found["discarded"][0]["text"].endswith("P0411 not stored.")


def test_an_entry_of_another_edition_stops_nothing(pump_data):
    found = answer(pump_data, [CODE, {"test": "renamed", "result": "done"}])
    assert found["next"]["kind"] == "test"
    assert found["discarded"] == [
        {
            "place": 1,
            "text": "An entry of another edition is left out: expected a test of this procedure, "
            "got 'renamed'.",
        }
    ]


def test_a_network_that_cannot_be_read(pump_data):
    with pytest.raises(ValueError, match=r"^faults: expected a list, got 3\nfaults: expected at"):
        isolation.open_network(pump_data | {"faults": 3, "tests": []})


def test_plan_is_nested(pump_data):
    found = isolation.plan(pump_data)
    node = found["tree"]
    assert node["share"] == 1.0
    while node["branches"]:
        assert node["headline"]
        node = node["branches"][0]["node"]
    assert node["end"] == "proven"
    assert found["expected"]["money"] < found["guess"]["money"]


def test_figures_and_simulation(pump_data):
    found = isolation.figures(pump_data)
    assert [row["fault"] for row in found["faults"]] == ["valve", "pump", "relay", "fuse"]
    shown = isolation.diagnosability(pump_data)
    assert [*shown["detection"]] == ["valve", "pump", "relay", "fuse"]
    assert shown["unseen"] == []
    compared = isolation.simulation(pump_data, 200, seed=1)
    assert list(compared) == ["plan", "guess", "page", "outside", "good"]
    assert compared["plan"]["right"] > compared["guess"]["right"]
