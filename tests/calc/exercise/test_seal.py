"""Sealed tokens: what goes in comes out, and what is damaged is told."""

import base64

import pytest
from tests.calc.exercise.cars import exercise

from baycalc.exercise.seal import LONGEST, seal, unseal
from baycalc.exercise.setting import NoExercise, exercise_data, read_exercise


def test_what_is_sealed_comes_out_again():
    for given in (exercise("valve", "pump", seed=7), exercise(codes=("P1",), help="on-demand")):
        assert unseal(seal(given)) == given


def test_a_casual_eye_finds_no_fault():
    token = seal(exercise("valve", "pump"))
    raw = base64.urlsafe_b64decode(token + "=" * (-len(token) % 4))
    assert b"valve" not in raw and "valve" not in token
    assert set(token) <= set("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_")


def test_two_exercises_that_differ_a_little_look_nothing_alike():
    one, other = seal(exercise("valve", seed=1)), seal(exercise("valve", seed=2))
    assert sum(a == b for a, b in zip(one, other, strict=False)) < len(one) / 4


@pytest.mark.parametrize("change", [lambda t: t[:-1], lambda t: "A" + t[1:], lambda t: t + "!"])
def test_a_damaged_token_is_refused(change):
    with pytest.raises(NoExercise, match="damaged"):
        unseal(change(seal(exercise("valve"))))


@pytest.mark.parametrize("token", ["", "ä", "x" * (LONGEST + 1), "AAAA"])
def test_what_is_no_token_is_refused(token):
    with pytest.raises(NoExercise, match="damaged"):
        unseal(token)


@pytest.mark.parametrize(
    ("change", "told"),
    [
        ({"seed": "1"}, "seed: expected a whole number, got '1'."),
        ({"seed": True}, "seed: expected a whole number, got True."),
        ({"faults": []}, "faults: expected one to 3 of them, got 0."),
        ({"faults": "valve"}, "faults: expected a list of names, got 'valve'."),
        ({"help": "yes"}, "help: expected one of off, on-demand, on; got 'yes'."),
        ({"money": -1}, "money: expected a number of zero or more, got -1."),
        ({"vehicle": 3}, "vehicle: expected a text, got 3."),
        ({"codes": [1]}, "codes: expected a list of names, got [1]."),
    ],
)
def test_a_wrong_field_is_told(change, told):
    with pytest.raises(NoExercise) as error:
        read_exercise(exercise_data(exercise("valve")) | change)
    assert str(error.value) == told
