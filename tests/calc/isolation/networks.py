"""Networks that the tests and the bench of fault isolation share."""

from random import Random
from typing import Any

Json = dict[str, Any]


def fault(name: str, often: float = 1, minutes: float = 10, price: float = 0, **more: Any) -> Json:
    return {
        "id": name,
        "says": f"{name} is bad",
        "part": name,
        "often": often,
        "sets": {},
        "leads_to": {},
        "repair": {"minutes": minutes, "price": price},
    } | more


def check(name: str, minutes: float, shows: dict[str, float], **more: Any) -> Json:
    """A test with one observation, `seen`."""
    false_alarm = more.pop("false_alarm", 0.01)
    seen = {"id": "seen", "shows": shows, "false_alarm": false_alarm}
    return {"id": name, "title": f"Test {name}", "minutes": minutes, "observations": [seen]} | more


def network(faults: list[Json], tests: list[Json], elsewhere: float = 0, **more: Any) -> Json:
    """A network; `elsewhere` is the weight of a cause outside against those of the faults."""
    whole = elsewhere + sum(one["often"] for one in faults)
    return {
        "faults": faults,
        "tests": tests,
        "outside": {"share": elsewhere / whole if elsewhere else 0.0},
        "codes": {},
        "setups": {},
        "rate": 1.0,
        "recheck_minutes": 0.0,
    } | more


def result(test: str, shown: bool | str | Json = True) -> Json:
    said = {True: "abnormal", False: "normal"}[shown] if isinstance(shown, bool) else shown
    return {"test": test, "observation": "seen", "result": said}


def pump_story() -> Json:
    """A valve that drowns the pump, a pump that burns the relay, at once or after the repair.

    Invented figures.
    """
    return network(
        [
            fault("valve", 3, 30, 90, sets={"P0411": 0.4}, leads_to={"pump": {"chance": 0.5}}),
            fault(
                "pump",
                4,
                60,
                250,
                sets={"P0410": 0.9},
                leads_to={"relay": {"chance": 0.2, "later": 0.3}},
            ),
            fault("relay", 4, 5, 20, sets={"P0410": 0.9}),
            fault("fuse", 2, 5, 5, sets={"P0410": 0.9}),
        ],
        [
            check("safe", 2, {}, false_alarm=0.001),
            check("fuse-look", 2, {"fuse": 0.98}),
            check("relay-swap", 4, {"relay": 0.95}, after=["safe"]),
            check("pump-feed", 8, {"pump": 0.95}, after=["safe"], setup="raised"),
            check("valve-hold", 6, {"valve": 0.95}, after=["safe"], setup="raised"),
        ],
        codes={"P0410": {"false_alarm": 0.001}, "P0411": {"false_alarm": 0.001}},
        setups={"raised": {"minutes": 5}},
        recheck_minutes=15.0,
        elsewhere=0.5,
    )


def random_procedure(
    rng: Random, faults: int = 5, tests: int = 6, ordered: bool = False, **more: Any
) -> Json:
    """A small procedure for planning: one observation a test, two set-ups, some tests in order."""
    names = [f"f{number}" for number in range(faults)]
    listed = [
        fault(
            name,
            rng.choice([1, 2, 3, 5, 8]),
            rng.choice([5, 10, 20, 30, 60]),
            rng.choice([0, 10, 30, 80, 150]),
        )
        for name in names
    ]
    setups = {name: {"minutes": rng.choice([3, 5, 10])} for name in ("warm", "open")}
    recheck = rng.choice([5, 10, 15])
    checks = [
        check(
            f"t{number}",
            rng.choice([2, 5, 10, 15, 20]),
            {
                name: rng.choice([0.6, 0.8, 0.9, 0.95])
                for name in rng.sample(names, rng.randint(1, faults // 2 + 1))
            },
            false_alarm=rng.choice([0.01, 0.02, 0.05]),
            setup=rng.choice([None, "warm", "open"]),
        )
        for number in range(tests)
    ]
    if ordered:
        for later in range(1, tests, 3):
            checks[later]["after"] = [checks[later - 1]["id"]]
    return network(listed, checks, setups=setups, recheck_minutes=recheck) | more
