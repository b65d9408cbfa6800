"""Which cars a procedure treats alike: a page stands for a set of equipment, not for a car."""

import hashlib
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from baybook.book.car import CarProcedure
from baybook.book.prose.equipment_words import asked_equipment, bound_to_car
from baybook.book.sources.load import Book, ProcedureSource, VehicleSource

_LONGEST = 50
"""Letters of a page's name beyond which it says only the first item of the equipment."""

PLAIN = "work"
"""Name of the page of a procedure for which no equipment makes a difference."""


@dataclass(frozen=True, slots=True)
class Variant:
    """A procedure for one set of equipment, with the cars of the book that have it."""

    source: ProcedureSource
    name: str
    equipment: tuple[str, ...]
    """What the set has, of the equipment that makes a difference."""
    without: tuple[str, ...]
    """What it has not."""
    cars: tuple[VehicleSource, ...]

    @property
    def car(self) -> CarProcedure:
        """The procedure for the first of its cars; all but the figures is alike for the others."""
        return CarProcedure(self.source, self.cars[0])


def differences(source: ProcedureSource, book: Book) -> set[str]:
    """Return the equipment that changes text, network or drawing of a procedure."""
    data = source.data
    found = asked_equipment(source, book)
    for items in (data.parts, data.faults, data.tests):
        for item in items.values():
            found.update(item.when)
    for code in data.codes:
        found.update(source.codes_need.get(code, ()))
    return found - {*data.vehicles.needs, *data.vehicles.without}


def variants_of(source: ProcedureSource, book: Book) -> list[Variant]:
    """Return the pages of a procedure: one for each set of equipment that a car of the book has."""
    asked = differences(source, book)
    of_one_car = bound_to_car(source, book)
    found: dict[tuple[str, tuple[str, ...]], list[VehicleSource]] = {}
    for vehicle in book.matches(source):
        has = tuple(sorted(asked & set(vehicle.data.has)))
        found.setdefault((vehicle.id if of_one_car else "", has), []).append(vehicle)
    return [
        Variant(source, _name(car, has), has, tuple(sorted(asked - set(has))), tuple(cars))
        for (car, has), cars in found.items()
    ]


def _name(car: str, has: tuple[str, ...]) -> str:
    if car:
        return f"for-{car}"
    if not has:
        return PLAIN
    name = "-".join(("with", *has))
    if len(name) <= _LONGEST:
        return name
    digest = hashlib.sha256(name.encode()).hexdigest()[:6]
    return f"with-{has[0]}-and-{len(has) - 1}-more-{digest}"


def variants(book: Book) -> Iterator[Variant]:
    """Give the pages of every procedure."""
    for source in book.procedures.values():
        yield from variants_of(source, book)


def by_equipment(cars: Iterable[VehicleSource]) -> list[list[VehicleSource]]:
    """Return cars in groups that have the same equipment, in the order of their first car."""
    found: dict[frozenset[str], list[VehicleSource]] = {}
    for car in cars:
        found.setdefault(frozenset(car.data.has), []).append(car)
    return list(found.values())
