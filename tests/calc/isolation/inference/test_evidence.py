"""Reading a job's history: every event that cannot be read gets its line."""

import pytest

from baycalc.isolation.inference.evidence import read_history


def test_every_mistake_has_its_line(pump):
    history = [
        {"code": "P0999", "stored": True},
        {"code": "P0410"},
        {"test": "pump-feel", "observation": "seen", "result": "shown"},
        {"test": "pump-feed", "observation": "felt", "result": "shown"},
        {"test": "pump-feed", "observation": "seen", "result": "yes"},
        {"test": "pump-feed", "observation": "seen", "result": {"likelihood": [0, 0]}},
        {"test": "pump-feed", "observation": "seen", "result": {"likelihood": [1]}},
        {"repair": "radio"},
        {"recheck": "fine"},
        {"look": 1},
        "pump",
    ]
    with pytest.raises(ValueError, match="expected") as caught:
        read_history(pump, history)
    assert str(caught.value).splitlines() == [
        "history[0]: expected a code of the network, got 'P0999'",
        "history[1]: stored: expected true or false, got None",
        "history[2]: expected a test, got 'pump-feel'",
        "history[3]: expected an observation of test pump-feed, got 'felt'",
        "history[4]: expected 'shown', 'not shown', 'not done' or a likelihood, got 'yes'",
        "history[5]: likelihood: expected two numbers of at least 0 that are not both 0, "
        "got [0, 0]",
        "history[6]: likelihood: expected two numbers of at least 0 that are not both 0, got [1]",
        "history[7]: expected a fault, got 'radio'",
        "history[8]: expected 'cured' or 'not cured', got 'fine'",
        "history[9]: expected a code, test, repair or recheck, got {'look': 1}",
        "history[10]: expected an object, got 'pump'",
    ]


def test_entries_keep_their_place(pump):
    entries = read_history(
        pump,
        [
            {"code": "P0410", "stored": False},
            {"test": "pump-feed", "observation": "seen", "result": "not done"},
            {"repair": "elsewhere"},
            {"recheck": "cured"},
        ],
    )
    assert [entry.place for entry in entries] == [0, 1, 2, 3]
    assert [entry.likelihood for entry in entries] == [(0, 1), (1, 1), (1, 1), (0, 1)]
    assert [entry.done for entry in entries] == [True, False, True, True]
