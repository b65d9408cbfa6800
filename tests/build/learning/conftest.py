"""A small network to learn in, and a book of one procedure."""

from typing import Any

import pytest


def _fault(name: str, often: float, sets: dict[str, float], **more: Any) -> dict[str, Any]:
    return {
        "id": name,
        "says": name,
        "short": name,
        "part": name,
        "often": often,
        "present": 1.0,
        "sets": sets,
        "complaints": {},
        "leads_to": {},
        "repair": {"minutes": 20, "price": 50, "cures": []},
    } | more


def _seen(name: str, *bands: tuple[str, dict[str, float], float], restates: bool = False) -> Any:
    return {
        "id": name,
        "says": name,
        "normal": "normal",
        "restates": restates,
        "bands": [
            {"id": band, "says": band, "shows": shows, "false_alarm": alarm, "stops": []}
            for band, shows, alarm in bands
        ],
    }


def _test(name: str, minutes: float, *seen: Any, setup: str | None = None) -> dict[str, Any]:
    return {
        "id": name,
        "title": name,
        "short": name,
        "minutes": minutes,
        "price": 0,
        "setup": setup,
        "after": [],
        "opening": False,
        "observations": list(seen),
    }


@pytest.fixture
def network() -> dict[str, Any]:
    """Four faults with a knock-on, two codes, a cause outside, an observation with bands."""
    return {
        "faults": [
            _fault("hose", 10, {"P0410": 0.8, "P0411": 0.3}, complaints={"hiss": 0.7}),
            _fault("valve", 6, {"P0410": 0.6}, leads_to={"pump": {"chance": 0.2, "later": 0.1}}),
            _fault("pump", 4, {"P0411": 0.9}, complaints={"howl": 0.5}),
            _fault("wire", 3, {"P0410": 0.5, "P0411": 0.5}),
        ],
        "outside": {"share": 0.08, "with": {"P0411": 0.05}},
        "codes": {
            "P0410": {"false_alarm": 0.001, "suppresses": []},
            "P0411": {"false_alarm": 0.001, "suppresses": []},
        },
        "complaints": {
            "hiss": {"says": "hisses", "false_alarm": 0.05},
            "howl": {"says": "howls", "false_alarm": 0.05},
        },
        "setups": {"raised": {"says": "raised", "minutes": 6, "wait": 0, "state": "", "burden": 0}},
        "tests": [
            _test("hold", 5, _seen("drops", ("abnormal", {"hose": 0.8, "valve": 0.5}, 0.05))),
            _test("run", 8, _seen("still", ("abnormal", {"pump": 0.9, "wire": 0.4}, 0.05))),
            _test(
                "listen",
                3,
                _seen("odd", ("abnormal", {"wire": 0.85, "hose": 0.3}, 0.05), restates=True),
            ),
            _test(
                "measure",
                4,
                _seen(
                    "volts",
                    ("none", {"hose": 0.5, "valve": 0.2}, 0.02),
                    ("low", {"hose": 0.3, "pump": 0.6}, 0.03),
                ),
                setup="raised",
            ),
        ],
        "opening": [],
        "rate": 1.0,
        "currency": "$",
        "recheck_minutes": 10,
    }
