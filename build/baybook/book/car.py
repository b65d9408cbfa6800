"""A procedure for one car: only what this car has, with its figures filled in."""

from dataclasses import dataclass
from typing import Any

from msgspec import Struct, UnsetType, structs

from baybook.book.figure_texts import Pair, bounds, figure_text, pair, units_like, usual_units
from baybook.book.pint_quantities import unit_table
from baybook.book.source_model import (
    Fault,
    Figure,
    Gauge,
    Limit,
    Observation,
    Part,
    Setup,
    Test,
)
from baybook.book.source_types import OfCar
from baybook.book.sources.load import ProcedureSource, VehicleSource
from baycalc.quantities.units import QuantityError


@dataclass(frozen=True, slots=True)
class CarLimit:
    """A limit for one car: SI values for judging, texts for reading."""

    low: float | None
    high: float | None
    low_text: str | None
    high_text: str | None
    kind: str

    def pairs(self, units: tuple[str, str]) -> tuple[Pair | None, Pair | None]:
        """Return both bounds in the US and the metric unit of the reading."""
        return (
            None if self.low_text is None else pair(self.low_text, self.kind, units),
            None if self.high_text is None else pair(self.high_text, self.kind, units),
        )


class CarProcedure:
    """A procedure bound to a vehicle that it serves."""

    def __init__(self, source: ProcedureSource, vehicle: VehicleSource) -> None:
        self.source = source
        self.vehicle = vehicle
        data = source.data
        self.parts: dict[str, Part] = self._present(data.parts)
        self.setups: dict[str, Setup] = {
            name: self._for_car(setup) for name, setup in data.setups.items()
        }
        self.faults: dict[str, Fault] = self._present(data.faults)
        self.tests: dict[str, Test] = self._present(data.tests)
        self.codes: tuple[str, ...] = tuple(filter(self._stores, data.codes))

    def _present[Item: (Part, Fault, Test)](self, items: dict[str, Item]) -> dict[str, Item]:
        has = self.vehicle.data.has
        return {name: self._for_car(item) for name, item in items.items() if item.when.fits(has)}

    def _for_car[R: Struct](self, record: R) -> R:
        """Return a record with the numbers that figures of the car give."""
        changed: dict[str, Any] = {}
        for name in record.__struct_fields__:
            value = getattr(record, name)
            if isinstance(value, OfCar):
                changed[name] = self._number(value.name, "time" if name == "minutes" else "ratio")
            elif isinstance(value, Struct):
                inner = self._for_car(value)
                if inner is not value:
                    changed[name] = inner
        return structs.replace(record, **changed) if changed else record

    def _number(self, name: str, kind: str) -> float:
        """Return the number that a figure gives; 1 where it gives none, which a check tells."""
        try:
            found = unit_table().parse(kind, self.text(name))
        except (KeyError, QuantityError):
            return 1.0
        return found / 60 if kind == "time" else found

    def _stores(self, code: str) -> bool:
        """Tell whether the car can store a code: it has what that needs, and a fault sets it."""
        able = all(map(self.has, self.source.codes_need.get(code, ())))
        return able and any(code in fault.sets for fault in self.faults.values())

    def has(self, equipment: str) -> bool:
        """Tell whether the car has an item of equipment."""
        return equipment in self.vehicle.data.has

    def fault_name(self, fault: str) -> str:
        """Return a fault as people say it: part and state."""
        found = self.faults[fault]
        return f"{self.source.data.parts[found.part].name} {found.says}"

    def code_title(self, code: str) -> str:
        """Return the title of a code: the maker's, the procedure's, the book's or SAE J2012's."""
        return self.vehicle.data.code_titles.get(code) or self.source.code_title(code)

    def ambiguity_groups(self) -> list[list[str]]:
        """Return the stated groups of faults that no test separates, as far as the car has them."""
        stated = self.source.data.ambiguity_groups
        groups = [[fault for fault in group if fault in self.faults] for group in stated]
        return [group for group in groups if len(group) > 1]

    def figure(self, name: str) -> Figure:
        """Return a figure of the car.

        Raises
        ------
        KeyError
            When the car's profile has no such figure.
        """
        return self.vehicle.data.figures[name]

    def text(self, quantity: str) -> str:
        """Return the text of a quantity, looked up where it names a figure."""
        if not is_figure(quantity):
            return quantity
        value = figure_text(self.figure(quantity.partition(".")[0]), quantity)
        if value is None:
            raise KeyError(quantity)
        return value

    def bounds(self, observation: Observation) -> CarLimit:
        """Return the limit of a reading for this car."""
        assert not isinstance(observation.limit, UnsetType)
        low, high = self._limit_texts(observation.limit)
        return CarLimit(
            low=self._si(observation.kind, low),
            high=self._si(observation.kind, high),
            low_text=low,
            high_text=high,
            kind=observation.kind,
        )

    def _limit_texts(self, limit: Limit) -> tuple[str | None, str | None]:
        named = not isinstance(limit.figure, UnsetType)
        low, high = bounds(self.figure(str(limit.figure)) if named else limit)
        return (
            None if low is None else self.text(low),
            None if high is None else self.text(high),
        )

    def _si(self, kind: str, text: str | None) -> float | None:
        return None if text is None else unit_table().parse(kind, text)

    def units(self, observation: Observation) -> tuple[str, str]:
        """Return the US and the metric unit in which a reading is taken."""
        if observation.units:
            return observation.units[0], observation.units[-1]
        limit = self.bounds(observation)
        text = limit.low_text or limit.high_text
        return units_like(observation.kind, text) if text else usual_units(observation.kind)


def is_figure(quantity: str) -> bool:
    """Tell whether a text names a figure of the vehicle (and is no quantity)."""
    return quantity[:1].isalpha() and not quantity.upper().startswith("AWG ")


def gauge_si(gauge: Gauge, kind: str) -> dict[str, Any]:
    """Return a gauge as the fields of `baycalc.measurement.decision.Gauge`, in SI."""
    scale = f"{kind} difference" if kind == "temperature" else kind
    fields: dict[str, Any] = {"grade": gauge.grade, "of_reading": gauge.of_reading}
    for name, text in (("span", gauge.span), ("resolution", gauge.resolution)):
        if not isinstance(text, UnsetType):
            fields[name] = unit_table().parse(scale, text)
    return fields


def torque_names(text: str) -> list[str]:
    """Return the figures of a table, which `torques` names with commas between them."""
    return [name.strip() for name in text.split(",") if name.strip()]
