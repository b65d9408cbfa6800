"""Reading a job's history: what is known is taken, everything else is named."""

import pytest
from tests.calc.isolation.jobs import events
from tests.calc.isolation.networks import check, fault, network

from baycalc.isolation.model.bayes_net import LOOK, RECHECK, Key, Model
from baycalc.isolation.model.read_network import from_data
from baycalc.isolation.read_events import read_events


def test_every_unknown_entry_is_named(pump):
    history = [
        {"code": "P0999", "state": "stored"},
        {"code": "P0410"},
        {"test": "pump-feel", "observation": "seen", "result": "abnormal"},
        {"test": "pump-feed", "observation": "felt", "result": "abnormal"},
        {"test": "pump-feed", "observation": "seen", "result": "yes"},
        {"test": "pump-feed", "observation": "seen", "result": {"likelihood": [0, 0]}},
        {"test": "pump-feed", "observation": "seen", "result": {"likelihood": [1]}},
        {"repair": "radio"},
        {"recheck": "fine"},
        {"look": 1},
        "pump",
        {"repair": "pump"},
        {"state": "hot"},
        {"complaint": "noise"},
        {"codes": "some"},
        {"opening": "battery", "result": "done"},
        {"outside": "perhaps"},
    ]
    found, unknown = read_events(pump, history)
    assert [event.key for event in found] == [Key("repair", "pump")]
    assert [(place, why) for place, why in unknown] == [
        (0, "expected a code of this procedure, got 'P0999'"),
        (1, "expected stored or permanent or pending or absent, got None"),
        (2, "expected a test of this procedure, got 'pump-feel'"),
        (3, "expected an observation of test pump-feed, got 'felt'"),
        (4, "expected one of normal, abnormal, skipped, got 'yes'"),
        (5, "likelihood: expected a number for normal, abnormal, got {'abnormal': 0, 'normal': 0}"),
        (6, "likelihood: expected a number for normal, abnormal, got [1]"),
        (7, "expected a fault, got 'radio'"),
        (8, "expected cured or not cured, got 'fine'"),
        (9, "expected a code, complaint, test, repair or recheck, got {'look': 1}"),
        (10, "expected an object, got 'pump'"),
        (12, "expected cold, warm or raised, got 'hot'"),
        (13, "expected a complaint of this procedure, got 'noise'"),
        (14, "expected 'all', got 'some'"),
        (15, "expected an opening step, got 'battery'"),
        (16, "expected found or not found, got 'perhaps'"),
    ]


def test_entries_keep_their_place(pump):
    entries = events(
        pump,
        [
            {"code": "P0410", "state": "absent"},
            {"test": "pump-feed", "observation": "seen", "result": "skipped"},
            {"repair": "outside"},
            {"recheck": "cured"},
        ],
    )
    assert [entry.place for entry in entries] == [0, 1, 2, 3]
    assert [entry.likelihood for entry in entries] == [(1, 0), (1, 1), (1, 1), (1, 0)]
    assert [entry.done for entry in entries] == [True, False, True, True]


def test_a_look_that_finds_the_cause_is_a_repair_there(pump):
    found = events(pump, [{"outside": "found"}])
    assert [event.key for event in found] == [LOOK, Key("repair", "outside")]
    assert [event.key for event in events(pump, [{"outside": "not found"}])] == [LOOK]


def test_a_proof(pump):
    (proof,) = events(pump, [{"recheck": "not cured"}])
    assert (proof.key, proof.likelihood) == (RECHECK, (0, 1))


def test_a_whole_test_is_skipped():
    test = check("t", 5, {"a": 0.9})
    test["observations"].append({"id": "heard", "shows": {"b": 0.9}})
    model = Model(from_data(network([fault("a"), fault("b")], [test])))
    skipped = events(model, [{"test": "t", "result": "skipped"}])
    assert [event.key.observation for event in skipped] == ["seen", "heard"]
    assert not any(event.done for event in skipped)


@pytest.fixture
def banded() -> Model:
    test = {"id": "switch", "title": "Switch input", "minutes": 2}
    bands = [
        {"id": "ground", "says": "touches ground", "shows": {"short": 0.9}},
        {"id": "open", "says": "is open", "shows": {"wire": 0.9}, "false_alarm": 0.02},
    ]
    seen = {"id": "volts", "says": "Voltage at the pin", "normal": "as listed", "bands": bands}
    return Model(
        from_data(network([fault("short"), fault("wire")], [test | {"observations": [seen]}]))
    )


@pytest.mark.parametrize(
    ("said", "likelihood"),
    [
        ("normal", (1, 0, 0)),
        ("ground", (0, 1, 0)),
        ("open", (0, 0, 1)),
        ("skipped", (1, 1, 1)),
        ({"likelihood": {"normal": 0.1, "ground": 0.2, "open": 0.7}}, (0.1, 0.2, 0.7)),
    ],
)
def test_named_outcomes(banded, said, likelihood):
    (event,) = events(banded, [{"test": "switch", "observation": "volts", "result": said}])
    assert event.likelihood == likelihood
