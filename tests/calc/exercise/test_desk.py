"""What a student sees, as the page asks for it."""

import json

import pytest
from tests.calc.exercise.cars import READINGS, exercise, story

from baycalc import api, isolation
from baycalc.exercise.desk import result_name
from baycalc.exercise.seal import seal

TEST, REPAIR = {"do": "test", "id": "see"}, {"do": "repair", "id": "hose"}
END = [TEST, REPAIR, {"do": "proof"}, {"do": "close"}]


def ask(acts, **given):
    wanted = given.pop("exercise", exercise("hose", seed=2, help="on-demand"))
    request = {
        "method": "exercise",
        "id": isolation.open_network(story()),
        "network": "net",
        "vehicle": "car",
        "token": seal(wanted),
        "readings": dict(READINGS),
        "acts": acts,
        "book": "book",
        "student": "Ada",
    }
    return json.loads(api.call(json.dumps(request | given)))


def test_it_begins_with_codes_and_complaint_and_the_lists():
    view = ask([])
    assert view["comes_in"] == "Codes stored: P1."
    assert view["clock"] == "Work 1\u00a0min, parts 0"
    assert [row["id"] for row in view["tests"]] == ["hold", "spin", "see"]
    assert [row["id"] for row in view["repairs"]] == ["valve", "pump", "hose"]
    assert [way["kind"] for way in view["ways"]] == ["proof", "outside", "help", "stop"]
    assert (view["advice"], view["ended"], view["marks"]) == ([], "", None)


def test_one_act_more_is_the_same_as_all_from_the_start():
    for count in range(len(END) + 1):
        step_by_step = ask(END[:count])
    ask([], exercise=exercise("valve"))
    assert ask(END) == step_by_step


def test_a_step_back_is_possible():
    ask(END[:3])
    assert [act["id"] for act in ask(END[:1])["acts"]] == ["see"]


def test_advice_only_where_it_was_asked_for():
    assert ask([TEST])["advice"] == []
    assert ask([TEST, {"do": "help"}])["advice"][0].endswith(".")
    assert ask([], exercise=exercise("hose", help="on"))["advice"]


def test_the_end_has_marks_and_a_file():
    view = ask(END)
    assert view["marks"]["text"].endswith("of 100 points")
    assert view["file_name"] == "air-ada.json"
    assert json.loads(view["file"])["marks"] == view["marks"]


def test_no_hidden_fault_is_told_before_the_end():
    view = ask([TEST], exercise=exercise("valve", "pump"))
    assert "hidden" not in json.dumps(view)


@pytest.mark.parametrize(
    ("given", "told"),
    [
        (
            {"token": "x"},
            "This link to an exercise is damaged: ask for it again, and copy it whole.",
        ),
        ({"network": "other"}, "This exercise was set with another edition of the procedure."),
        ({"id": "gone"}, "unknown network"),
        ({"acts": [{"do": "close"}]}, "A job is closed after its proof: do the proof first"),
    ],
)
def test_what_is_wrong_is_told(given, told):
    assert ask(given.pop("acts", []), **given)["error"].startswith(told)


def test_a_file_has_a_plain_name():
    assert result_name(exercise("valve", name="4a"), "Zoë / ../x") == "4a-zo-x.json"
    assert result_name(exercise("valve"), "") == "air-result.json"
