"""Whole jobs weighed: held to the engine's own inference, which the browser runs."""

from math import exp
from typing import Any

import numpy as np
import pytest

from baybook.learning.patterns import pattern_of
from baybook.learning.smoother import Smoother
from baycalc.isolation.inference.evidence import ABNORMAL, NORMAL, Event, evidence_of
from baycalc.isolation.inference.filtering import update
from baycalc.isolation.inference.posterior import posterior, suspects_of
from baycalc.isolation.model.bayes_net import LOOK, RECHECK, Key, Model
from baycalc.isolation.model.read_network import from_data

CODE = Key("code", "P0410")
HOLD = Key("test", "hold", "drops")
RUN = Key("test", "run", "still")
VOLTS = Key("test", "measure", "volts")

JOBS = {
    "one repair": [
        Event(CODE, ABNORMAL, place=0),
        Event(HOLD, (0.4, 1.0), place=1),
        Event(VOLTS, (0.0, 0.0, 1.0), place=2),
        Event(Key("repair", "hose"), place=3),
        Event(RECHECK, NORMAL, place=4),
    ],
    "a wrong part, then a knock-on": [
        Event(Key("code", "P0411"), ABNORMAL, place=0),
        Event(Key("complaint", "howl"), ABNORMAL, place=1),
        Event(Key("repair", "wire"), place=2),
        Event(RECHECK, ABNORMAL, place=3),
        Event(HOLD, ABNORMAL, place=4),
        Event(Key("repair", "valve"), place=5),
        Event(RUN, ABNORMAL, place=6),
        Event(Key("repair", "pump"), place=7),
        Event(RECHECK, NORMAL, place=8),
    ],
    "outside": [
        Event(HOLD, NORMAL, place=0),
        Event(RUN, NORMAL, place=1),
        Event(LOOK, ABNORMAL, place=2),
        Event(Key("repair", "outside"), place=3),
    ],
}


@pytest.mark.parametrize("name", JOBS)
def test_chance_and_last_belief_are_those_of_the_engine(name: str, network: dict[str, Any]) -> None:
    model = Model(from_data(network))
    log_chance, weights = Smoother(model).weigh(pattern_of(model, JOBS[name]))
    told = {event.key for event in JOBS[name]}
    silent = [Key("complaint", name) for name in ("hiss", "howl")]
    not_told = [Event(key, NORMAL) for key in silent if key not in told]
    belief, _ = update(model, evidence_of(model, [*not_told, *JOBS[name]]))
    assert exp(log_chance) == pytest.approx(belief.chance, rel=1e-9)
    assert weights[-1] == pytest.approx(np.array(belief.weights), abs=1e-9)


def test_looking_back_is_that_of_the_engine(network: dict[str, Any]) -> None:
    events = JOBS["a wrong part, then a knock-on"]
    model = Model(from_data(network))
    _, weights = Smoother(model).weigh(pattern_of(model, events))
    not_told = [Event(Key("complaint", "hiss"), NORMAL)]
    repaired = suspects_of(posterior(model, [*not_told, *events])).repaired
    for stage, fault in enumerate(("wire", "valve", "pump")):
        held = [model.number[fault] in members for members in model.sets.members]
        assert weights[stage][held].sum() == pytest.approx(repaired[fault], abs=1e-9)


def test_what_cannot_be_has_no_weights(network: dict[str, Any]) -> None:
    network["tests"][0]["observations"][0]["bands"][0] |= {"shows": {"hose": 1.0}, "false_alarm": 0}
    model = Model(from_data(network))
    events = [
        Event(HOLD, ABNORMAL, place=0),
        Event(Key("repair", "hose"), place=1),
        Event(HOLD, ABNORMAL, place=2),
    ]
    log_chance, weights = Smoother(model).weigh(pattern_of(model, events))
    assert (log_chance, weights) == (-np.inf, [])


def test_a_test_done_again_in_the_same_state_tells_once(network: dict[str, Any]) -> None:
    model = Model(from_data(network))
    twice = [Event(HOLD, NORMAL, place=0), Event(HOLD, ABNORMAL, place=1)]
    assert pattern_of(model, twice) == pattern_of(model, twice[:1])
    after_repair = [twice[0], Event(Key("repair", "pump"), place=1), twice[1]]
    assert len(pattern_of(model, after_repair).stages[1][0]) == 1


def test_the_code_says_which_share_outside_counts(network: dict[str, Any]) -> None:
    model = Model(from_data(network))
    assert pattern_of(model, [Event(CODE, ABNORMAL, place=0)]).outside == ""
    other = pattern_of(model, [Event(Key("code", "P0411"), ABNORMAL, place=0)])
    assert (other.outside, other.by_code) == ("P0411", True)
