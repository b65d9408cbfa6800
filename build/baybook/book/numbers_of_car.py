"""Numbers of a procedure for which the name of a vehicle's figure may stand."""

from collections.abc import Iterator
from dataclasses import dataclass

from msgspec import UnsetType

from baybook.book.source_model import Needs, Procedure
from baybook.book.sources.read import Path


@dataclass(frozen=True, slots=True)
class Number:
    """A number, where it stands, the kind of a figure in its place, and on which cars it counts."""

    path: Path
    number: float
    kind: str
    when: Needs


def numbers(data: Procedure) -> Iterator[Number]:
    """Give each number for which a figure may stand."""
    for name, fault in data.faults.items():
        path: Path = ("faults", name)
        yield Number((*path, "often"), fault.often, "ratio", fault.when)
        yield Number((*path, "repair", "minutes"), fault.repair.minutes, "time", fault.when)
        yield Number((*path, "repair", "price"), fault.repair.price, "ratio", fault.when)
    for name, test in data.tests.items():
        yield Number(("tests", name, "minutes"), test.minutes, "time", test.when)
        if not isinstance(test.uses, UnsetType):
            yield Number(("tests", name, "uses", "price"), test.uses.price, "ratio", test.when)
    for name, setup in data.setups.items():
        yield Number(("setups", name, "minutes"), setup.minutes, "time", Needs())
