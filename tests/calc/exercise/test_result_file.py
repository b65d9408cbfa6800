"""Result files: a replay comes to the same marks; what was edited is found."""

import json
from dataclasses import replace

import pytest
from tests.calc.exercise.cars import READINGS, begun, model

from baycalc.exercise.result_file import StatedResult, read_result, replay, result_data
from baycalc.exercise.seal import seal
from baycalc.exercise.setting import NoExercise

ACTS = [
    {"do": "test", "id": "see"},
    {"do": "repair", "id": "hose"},
    {"do": "proof"},
    {"do": "close"},
]


def written() -> dict:
    run = begun("hose", seed=2)
    for act in ACTS:
        run.act(act)
    return result_data(run, ACTS, "book", "Ada")


def stated(data: dict) -> StatedResult:
    return read_result(json.dumps(data))


def differences(data: dict) -> tuple[str, ...]:
    return replay(model(), READINGS, stated(data)).differences


def test_an_honest_file_agrees():
    data = written()
    found = replay(model(), READINGS, stated(data))
    assert (found.differences, found.marks and found.marks.total) == ((), data["marks"]["total"])
    assert (stated(data).student, stated(data).book) == ("Ada", "book")


def test_an_edited_score_is_found():
    data = written()
    real = data["marks"]["total"]
    data["marks"]["total"] = real - 1
    assert differences(data) == (f"states {real - 1} points, the replay gives {real}",)


def test_an_act_taken_out_is_found():
    data = written()
    data["acts"] = data["acts"][1:]
    assert "its acts are not those that the answers were given to" in differences(data)


def test_another_exercise_put_in_is_found():
    data = written()
    data["exercise"] = seal(replace(begun("hose").exercise, seed=99))
    assert "its acts are not those that the answers were given to" in differences(data)


def test_an_act_that_cannot_be_is_found():
    data = written()
    data["acts"] = [{"do": "close"}]
    (told,) = differences(data)
    assert told.startswith("act 1 cannot have been done: A job is closed after its proof")


def test_an_exercise_without_end_is_found():
    data = written()
    data["acts"] = data["acts"][:2]
    assert differences(data) == ("the exercise was not brought to an end",)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("{", "The file is no JSON."),
        ("[" * 100_000, "The file is no JSON."),
        ("[]", "The file is no result of an exercise."),
        ('{"form": "baybook/bench-sheet"}', "The file is no result of an exercise."),
    ],
)
def test_what_is_no_result_is_told(text, told):
    with pytest.raises(NoExercise) as error:
        read_result(text)
    assert str(error.value) == told


@pytest.mark.parametrize(
    ("change", "told"),
    [
        ({"version": 9}, "Its version is 9; this book reads 1."),
        ({"acts": "x"}, "acts: expected a list of acts."),
        ({"acts": [1]}, "acts: expected a list of acts."),
        ({"marks": {}}, "marks.total: expected a whole number."),
        ({"student": 1}, "student: expected a text."),
        ({"exercise": "xx"}, "This link to an exercise is damaged: ask for it again"),
    ],
)
def test_a_wrong_field_of_a_result_is_told(change, told):
    with pytest.raises(NoExercise) as error:
        stated(written() | change)
    assert str(error.value).startswith(told)
