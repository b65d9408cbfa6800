"""Bench sheets of invented jobs: simulated cars of a network, worked on by the plan.

python -m tests.invented_jobs writes those of the demo book.
"""

import hashlib
import json
import math
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from random import Random
from typing import Any

from baybook.book.compiled import compile_book
from baybook.book.sources.load import VehicleSource
from baybook.book.sources.read import Path as FieldPath
from baybook.learning.author_values import places, with_values
from baybook.runtime.page_scripts import book_id
from baybook.verbs.configuration import site_name_of
from baycalc.isolation.inference.evidence import Event
from baycalc.isolation.model.bayes_net import Key, Model
from baycalc.isolation.model.read_network import from_data
from baycalc.isolation.planning.policies import by_quick_plan
from baycalc.isolation.report.simulation import Workshop

BEGIN = datetime(2026, 1, 5, 17, 0, tzinfo=UTC)
SLOWER = 1.3
"""How much longer than the author says everything takes in the invented workshop [-]."""


def true_values(network: dict[str, Any], weight: float, seed: int) -> dict[FieldPath, float]:
    """Draw values as an author who knows as much as `weight` jobs could be wrong."""
    random = Random(seed)
    found: dict[FieldPath, float] = {}
    groups: dict[tuple[Any, ...], list[tuple[FieldPath, float]]] = {}
    for place in places(network):
        path = place.path
        if path[-1] == "often":
            group: tuple[Any, ...] = ("often",)
        elif path[4:5] == ("bands",):
            group = (*path[:4], *path[6:])
        else:
            group = path
        groups.setdefault(group, []).append((path, place.value))
    for group, members in groups.items():
        whole = sum(value for _, value in members)
        shares = (
            [value / whole for _, value in members]
            if group == ("often",)
            else [
                *(value for _, value in members),
                max(1.0 - whole, 0.0),
            ]
        )
        drawn = [random.gammavariate(max(weight * share, 1e-3), 1.0) for share in shares]
        scale = whole if group == ("often",) else 1.0
        for (path, _), one in zip(members, drawn, strict=False):
            found[path] = min(max(scale * one / sum(drawn), 1e-4), math.inf if scale > 1 else 0.999)
    return found


class Bay:
    """A workshop that keeps a bench sheet of every job."""

    def __init__(
        self,
        book: str,
        procedure: str,
        key: str,
        network: dict[str, Any],
        truth: dict[str, Any],
        seed: int = 0,
        vehicle: VehicleSource | None = None,
    ) -> None:
        self.book, self.procedure, self.key, self.network = book, procedure, key, network
        self.believed = Model(from_data(network))
        self.workshop = Workshop(Model(from_data(truth)), by_quick_plan, seed, self.believed)
        self.vehicle = vehicle
        self.random = Random(seed)

    def events(self) -> list[Event]:
        """Take one car through its job."""
        car = self.workshop.arrive()
        for name in self.network["complaints"]:
            key = Key("complaint", name)
            columns = self.workshop.model.columns(key)
            if self.random.random() < columns[1][car.present]:
                car.note(key, 1)
        return self.workshop.work(car).events

    def sheets(self, count: int) -> Iterator[dict[str, Any]]:
        """Give the sheets of some jobs."""
        for number in range(count):
            yield self.sheet(self.events(), number)

    def sheet(self, events: list[Event], number: int) -> dict[str, Any]:
        begun = BEGIN + timedelta(days=number % 200, minutes=number // 200)
        entries = list(self._entries(events, begun))
        name = hashlib.sha256(f"{self.procedure} {self.key} {number}".encode()).hexdigest()[:32]
        return {
            "form": "baybook/bench-sheet",
            "version": 2,
            "id": name,
            "book": self.book,
            "begun": _time(begun),
            "changed": entries[-1]["at"],
            "closed": entries[-1]["at"],
            "car": {"plate": "", "order": f"invented {number + 1}", "vin": "", "odometer": ""},
            "vehicle": self.vehicle.id if self.vehicle else "invented",
            "vehicleName": self.vehicle.data.name if self.vehicle else "an invented car",
            "page": "",
            "next": "",
            "technician": "",
            "networks": {self.procedure: self.key},
            "photos": [],
            "remarks": "An invented job of the evening class.",
            "events": entries,
        }

    def _entries(self, events: list[Event], now: datetime) -> Iterator[dict[str, Any]]:
        tests = {test["id"]: test for test in self.network["tests"]}
        codes = {e.key.name: e for e in events if e.key.kind == "code"}
        yield {
            "type": "intake",
            "at": _time(now),
            "procedure": self.procedure,
            "codes": {name: "stored" for name, e in codes.items() if e.likelihood[1]},
            "read": True,
            "complaints": [e.key.name for e in events if e.key.kind == "complaint"],
            "words": "",
        }
        setup = None
        last = ""
        for event in events:
            kind, name = event.key.kind, event.key.name
            if kind in ("code", "complaint", "codes"):
                continue
            planned = 1.0
            if kind == "test":
                test = tests[name]
                planned = 0.0 if name == last else test["minutes"]
                if test["setup"] and test["setup"] != setup:
                    planned += self.network["setups"][test["setup"]]["minutes"]
                setup = test["setup"]
            elif kind == "repair":
                faults = {one["id"]: one for one in self.network["faults"]}
                planned = faults[name]["repair"]["minutes"] if name in faults else 0.0
            elif kind == "recheck":
                planned = self.network["recheck_minutes"]
            last = name
            factor = self.random.lognormvariate(math.log(SLOWER) - 0.5 * 0.3**2, 0.3)
            now += timedelta(minutes=round(planned * factor, 2))
            entry = self._entry(event)
            if entry:
                yield {**entry, "at": _time(now), "procedure": self.procedure}

    def _entry(self, event: Event) -> dict[str, Any]:
        kind, name = event.key.kind, event.key.name
        if kind == "opening":
            return {"type": "opening", "done": [name], "skipped": []}
        if kind == "repair":
            return {"type": "repair", "fault": name, "says": ""} if name != "outside" else {}
        if kind == "outside":
            return {"type": "outside", "result": "found" if event.likelihood[1] else "not found"}
        if kind == "recheck":
            cured = event.likelihood[0] > 0.0
            return {"type": "recheck", "result": "cured" if cured else "not cured"}
        if not event.key.observation:
            return {"type": "done", "test": name, "testTitle": ""}
        bands = self.believed.observation(event.key).bands
        place = event.likelihood.index(1.0)
        found = {
            "type": "result",
            "test": name,
            "testTitle": "",
            "observation": event.key.observation,
            "asked": "",
            "text": "",
            "outcome": "fail" if place else "pass",
        }
        if place and len(bands) > 1:
            found["band"] = bands[place - 1].id
        return found


def write_sheets(folder: Path, sheets: Iterator[dict[str, Any]]) -> int:
    """Write sheets into a folder, each under its id."""
    folder.mkdir(parents=True, exist_ok=True)
    number = 0
    for sheet in sheets:
        path = folder / f"{sheet['id']}.json"
        path.write_text(json.dumps(sheet, separators=(",", ":")) + "\n", "utf-8")
        number += 1
    return number


def _time(at: datetime) -> str:
    return at.isoformat(timespec="milliseconds").replace("+00:00", "Z")


DEMO = {"secondary-air-vacuum-valve": 150, "crankcase-ventilation": 90, "vacuum-supply": 60}
"""How many sheets of each procedure the demo book carries [-]."""


def write_demo(root: Path) -> int:
    """Write the sheets of the demo book: cars of an invented town, where faults come otherwise."""
    folder = root / "docs" / "closed-jobs"
    for old in folder.glob("*.json"):
        old.unlink()
    written = 0
    book = book_id(site_name_of(root / "mkdocs.yml"))
    bound = compile_book(root / "procedures").bound
    for procedure, wanted in DEMO.items():
        cars = {car.fingerprint: car for car in bound if car.source.id == procedure}
        for place, (key, car) in enumerate(cars.items()):
            count = wanted // len(cars) + (place < wanted % len(cars))
            truth = with_values(car.network, true_values(car.network, 12.0, 2026))
            bay = Bay(book, procedure, key, car.network, truth, 11, car.vehicle)
            written += write_sheets(folder, bay.sheets(count))
    return written


if __name__ == "__main__":
    print(f"wrote {write_demo(Path(__file__).parents[1])} sheets")
