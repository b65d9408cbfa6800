"""The richer model against counting: every cause, link and outcome is drawn in every way.

Written out anew from the definition: repairs that cure sets, named outcomes, faults that come and
go, observations that restate the complaint, complaints, codes told absent and codes that hide
others, a cause outside with its share by code and a look for it.
"""

from itertools import pairwise, product
from math import prod
from random import Random

import pytest
from tests.calc.isolation.jobs import known
from tests.calc.isolation.networks import Json, fault, network

from baycalc.isolation.model.bayes_net import Model
from baycalc.isolation.model.read_network import from_data

HISTORIES = 120
EXACT = 1e-12
MISSED = 0.01
ONCE = 0.05
CODES = ("P0410", "P0411", "P0412")

State = tuple[frozenset[str], bool]


class Count:
    """Weights of the sets of faults, by counting."""

    def __init__(self, data: Json, stored: set[str]) -> None:
        self.data = data
        self.faults = {one["id"]: one for one in data["faults"]}
        outside = data["outside"]
        shares = [share for code, share in outside["with"].items() if code in stored]
        share = min(shares, default=outside["share"])
        whole = sum(one["often"] for one in data["faults"])
        often = {name: one["often"] for name, one in self.faults.items()}
        often["outside"] = share / (1 - share) * whole
        base = data["base"] / sum(often.values())
        self.names = list(often)
        self.mean = {name: one["often"] / whole for name, one in self.faults.items()}
        prior = self._prior({name: base * weight for name, weight in often.items()})
        self.weights: dict[State, float] = {
            (there, False): weight for there, weight in prior.items() if 0 < len(there) <= 3
        }

    def _prior(self, roots: dict[str, float]) -> dict[frozenset[str], float]:
        """Every root and every link is drawn in every way; present is what is reached."""
        links = [
            (cause, effect, link["chance"])
            for cause, one in self.faults.items()
            for effect, link in one["leads_to"].items()
        ]
        found: dict[frozenset[str], float] = {}
        for there in product((0, 1), repeat=len(roots)):
            chance = prod(p if on else 1 - p for p, on in zip(roots.values(), there, strict=True))
            first = {name for name, on in zip(roots, there, strict=True) if on}
            for acts in product((0, 1), repeat=len(links)):
                whole = chance
                for (_, _, p), on in zip(links, acts, strict=True):
                    whole *= p if on else 1 - p
                reached = set(first)
                while more := {
                    effect
                    for (cause, effect, _), on in zip(links, acts, strict=True)
                    if on and cause in reached and effect not in reached
                }:
                    reached |= more
                key = frozenset(reached)
                found[key] = found.get(key, 0.0) + whole
        return found

    def outcome(self, causes: list[list[float]], wanted: int) -> float:
        """Chance of an outcome: each cause brings one by itself, the first band hides the others.

        `causes` are the chances of the bands for each cause; 0 is the normal outcome.
        """
        total = 0.0
        for brought in product(range(len(causes[0]) + 1), repeat=len(causes)):
            chances = [
                row[band - 1] if band else 1 - sum(row)
                for row, band in zip(causes, brought, strict=True)
            ]
            seen = min((band for band in brought if band), default=0)
            total += prod(chances) if seen == wanted else 0.0
        return total

    def rows(self, there: frozenset[str], shows: list[Json], leaks: list[float], mean: bool):
        causes = [leaks]
        for name in sorted(there):
            if name != "outside":
                causes.append([band.get(name, 0.0) for band in shows])
            elif mean:
                causes.append(
                    [sum(self.mean[f] * band.get(f, 0.0) for f in self.faults) for band in shows]
                )
        return causes

    def learn(self, shows: list[Json], leaks: list[float], likelihood, mean: bool = False) -> None:
        for state in self.weights:
            causes = self.rows(state[0], shows, leaks, mean)
            self.weights[state] *= sum(
                chance * self.outcome(causes, place)
                for place, chance in enumerate(likelihood)
                if chance
            )

    def code(self, code: str, likelihood) -> None:
        shows = {name: one["sets"].get(code, 0.0) for name, one in self.faults.items()}
        self.learn([shows], [self.data["codes"][code]["false_alarm"]], likelihood, mean=True)

    def test(self, seen: Json, likelihood) -> None:
        shows = [
            {name: chance * self.faults[name]["present"] for name, chance in band["shows"].items()}
            for band in seen["bands"]
        ]
        leaks = [band["false_alarm"] for band in seen["bands"]]
        self.learn(shows, leaks, likelihood, mean=seen["restates"])

    def again(self, seen: Json, normal: bool) -> None:
        """An earlier result of a repeated test speaks of faults that come and go alone."""
        shows = {
            name: one["present"] * min(1.0, sum(b["shows"].get(name, 0) for b in seen["bands"]))
            for name, one in self.faults.items()
            if one["present"] < 1
        }
        self.learn([shows], [ONCE], (1, 0) if normal else (0, 1))

    def look(self, found: bool) -> None:
        chance = self.data["outside"]["found"]
        for state in self.weights:
            p = chance if "outside" in state[0] else 0.0
            self.weights[state] *= p if found else 1 - p

    def repair(self, name: str) -> None:
        cures = {name, *(self.faults[name]["repair"]["cures"] if name in self.faults else ())}
        then: dict[State, float] = {}
        for (there, changed), weight in self.weights.items():
            if not there & cures:
                then[there, changed] = then.get((there, changed), 0.0) + weight
                continue
            links = [
                (effect, link["later"])
                for cause in sorted(there & cures)
                for effect, link in self.faults.get(cause, {"leads_to": {}})["leads_to"].items()
                if effect not in cures
            ]
            for acts in product((0, 1), repeat=len(links)):
                chance = weight
                come = set(there - cures)
                for (effect, p), on in zip(links, acts, strict=True):
                    if effect in there:
                        continue
                    chance *= p if on else 1 - p
                    come |= {effect} if on else set()
                if any(on for (effect, _), on in zip(links, acts, strict=True) if effect in there):
                    continue  # what is there already cannot come
                if len(come) <= 3:
                    key = (frozenset(come), True)
                    then[key] = then.get(key, 0.0) + chance
        self.weights = then

    def proof(self, cured: bool) -> None:
        for there, changed in self.weights:
            if changed:
                missed = prod(1 - self.caught(name) for name in there)
            else:
                missed = MISSED if there else 1.0
            self.weights[there, changed] *= missed if cured else 1 - missed

    def caught(self, name: str) -> float:
        missed = 1.0
        for code in self.data["codes"]:
            sets = {f: one["sets"].get(code, 0.0) for f, one in self.faults.items()}
            mean = sum(self.mean[f] * chance for f, chance in sets.items())
            missed *= 1 - sets.get(name, mean)
        return 1 - missed

    def shares(self) -> dict[frozenset[str], float]:
        whole = sum(self.weights.values())
        found: dict[frozenset[str], float] = {}
        for (there, _), weight in self.weights.items():
            found[there] = found.get(there, 0.0) + weight / whole
        return found


def chances(rng: Random, names: list[str], most: float = 1.0) -> dict[str, float]:
    return {name: most * rng.random() for name in rng.sample(names, rng.randint(1, len(names)))}


def others_of(names: list[str], name: str) -> list[str]:
    return [one for one in names if one != name]


def random_data(rng: Random) -> Json:
    names = [f"f{number}" for number in range(rng.randint(2, 4))]
    faults = [
        fault(
            name,
            rng.uniform(0.5, 5),
            sets=chances(rng, list(CODES)),
            complaints=chances(rng, ["noise"]),
            present=rng.choice([1.0, 1.0, rng.uniform(0.2, 0.9)]),
            leads_to={
                other: {"chance": rng.uniform(0.1, 0.6), "later": rng.choice([0.0, 0.3])}
                for other in names[place + 1 : place + 2]
            },
            repair={
                "minutes": 5,
                "cures": [one for one in names if one != name][: rng.choice([0, 1])],
            },
        )
        for place, name in enumerate(names)
    ]
    tests = [
        {
            "id": f"t{number}",
            "title": f"T{number}",
            "minutes": 3,
            "observations": [
                {
                    "id": "seen",
                    "restates": rng.random() < 0.4,
                    "bands": [
                        {
                            "id": f"band{band}",
                            "shows": chances(rng, names, 1 / count),
                            "false_alarm": rng.choice([0.01, 0.1]),
                        }
                        for band in range(count)
                    ],
                }
            ],
        }
        for number, count in enumerate([1, 2, 3][: rng.randint(1, 3)])
    ]
    codes = {code: {"false_alarm": 0.02, "suppresses": []} for code in CODES}
    codes["P0410"]["suppresses"] = rng.choice([[], ["P0411"]])
    outside = {"share": 0.1, "with": {"P0412": 0.6}, "minutes": 30, "price": 0, "found": 0.7}
    return network(
        faults,
        tests,
        codes=codes,
        complaints={"noise": {"says": "noise", "false_alarm": 0.05}},
        outside=outside,
        base=0.2,
    )


def random_history(rng: Random, data: Json) -> list[Json]:
    states = ["stored", "pending", "absent", "permanent"]
    history: list[Json] = [
        {"code": code, "state": rng.choice(states)} for code in CODES if rng.random() < 0.6
    ]
    if rng.random() < 0.5:
        history.append({"codes": "all"})
    if rng.random() < 0.5:
        history.append({"complaint": "noise"})
    for _ in range(rng.randint(0, 2)):
        history += [result_of(rng, rng.choice(data["tests"])) for _ in range(rng.randint(0, 3))]
        history.append(
            rng.choice([{"outside": "not found"}, {"repair": rng.choice(data["faults"])["id"]}])
        )
        if rng.random() < 0.5:
            history.append({"recheck": rng.choice(["cured", "not cured"])})
    return history


def result_of(rng: Random, test: Json) -> Json:
    (seen,) = test["observations"]
    names = ["normal", *(band["id"] for band in seen["bands"])]
    near = {"likelihood": {name: rng.uniform(0.1, 1) for name in names}}
    return {"test": test["id"], "observation": "seen", "result": rng.choice([*names, near])}


def counted(data: Json, history: list[Json]) -> Count:
    """Take the history in stage by stage: the newest result of a state counts."""
    stages: list[tuple[list[Json], str]] = [([], "")]
    for event in history:
        if "repair" in event:
            stages[-1] = (stages[-1][0], event["repair"])
            stages.append(([], ""))
        else:
            stages[-1][0].append(event)
    told = [codes_of(data, events) for events, _ in stages]
    stored = {
        code for code, state in told[0].items() if state in ("stored", "pending", "permanent")
    }
    count = Count(data, stored)
    for (events, repaired), codes in zip(stages, told, strict=True):
        for code, state in codes.items():
            likelihood = {"absent": (1, 0), "pending": (0.1, 0.9)}.get(state, (0, 1))
            count.code(code, likelihood)
        take(count, data, events)
        if repaired:
            count.repair(repaired)
    return count


def codes_of(data: Json, events: list[Json]) -> dict[str, str]:
    codes = {event["code"]: event["state"] for event in events if "code" in event}
    if {"codes": "all"} in events:
        codes = {code: codes.get(code, "absent") for code in CODES}
    for code, entry in data["codes"].items():
        if codes.get(code, "absent") != "absent":
            for hidden in entry["suppresses"]:
                if codes.get(hidden) == "absent":
                    del codes[hidden]
    return codes


def take(count: Count, data: Json, events: list[Json]) -> None:
    if {"complaint": "noise"} in events:
        shows = {one["id"]: one["complaints"].get("noise", 0.0) for one in data["faults"]}
        count.learn([shows], [0.05], (0, 1), mean=True)
    for test in data["tests"]:
        (seen,) = test["observations"]
        results = [event["result"] for event in events if event.get("test") == test["id"]]
        pairs = [likelihood_of(seen, result) for result in results]
        shown = {name for band in seen["bands"] for name, chance in band["shows"].items() if chance}
        comes_and_goes = any(count.faults[name]["present"] < 1 for name in shown)
        for before, after in pairwise(pairs):
            was, now = (one[0] >= max(one[1:]) for one in (before, after))
            if comes_and_goes and (was or now):
                count.again(seen, was)
        if pairs:
            count.test(seen, pairs[-1])
    looks = [event["outside"] for event in events if "outside" in event]
    if looks:
        count.look(looks[-1] == "found")
    proofs = [event["recheck"] for event in events if "recheck" in event]
    if proofs:
        count.proof(proofs[-1] == "cured")


def likelihood_of(seen: Json, result) -> tuple[float, ...]:
    names = ["normal", *(band["id"] for band in seen["bands"])]
    if isinstance(result, dict):
        return tuple(result["likelihood"][name] for name in names)
    return tuple(float(result == name) for name in names)


@pytest.mark.parametrize("batch", range(4))
def test_equals_counting(batch):
    rng = Random(700 + batch)
    held = 0
    while held < HISTORIES // 4:
        data = random_data(rng)
        history = random_history(rng, data)
        model = Model(from_data(data))
        found = known(model, history)
        if found.discarded:
            continue
        expected = counted(data, history).shares()
        for members, weight in zip(model.sets.members, found.belief.weights, strict=True):
            there = frozenset(model.ids[number] for number in members)
            assert weight == pytest.approx(expected.get(there, 0.0), abs=EXACT), history
        held += 1
