"""The types of single values in the sources, and the base of every record."""

from collections.abc import Collection, Iterator
from typing import Annotated, Literal

from msgspec import Meta, Struct

Id = Annotated[
    str,
    Meta(
        pattern=r"^[a-z][a-z0-9-]*$",
        title="a name of lower-case letters, digits and hyphens",
        description="Lower-case letters, digits and hyphens.",
        examples=["air-pump"],
    ),
]
Code = Annotated[
    str,
    Meta(
        pattern=r"^[PBCU][0-3][0-9A-F]{3}$",
        title="a code such as P0410",
        description="A diagnostic trouble code as SAE J2012 writes it, such as `P0410`.",
        examples=["P0410"],
    ),
]


class OfCar(float):
    """A number that a figure of the car gives; ``name`` is the figure."""

    name: str

    def __new__(cls, name: str) -> "OfCar":
        """Keep the name; the number itself is none until a car is known."""
        found = super().__new__(cls, "nan")
        found.name = name
        return found


OF_CAR = "of-car"
"""Marks a number for which the name of a vehicle's figure may stand, with the figure's kind."""

MARKED = {"x-of-car": True}
"""Marks it in the schema too."""

Chance = Annotated[float, Meta(ge=0, le=1, description="A chance from 0 to 1.")]
Minutes = Annotated[float, Meta(ge=0, le=2000, description="Minutes of work.")]
MinutesOfCar = Annotated[Minutes, Meta(extra={OF_CAR: "time"}, extra_json_schema=MARKED)]
QuantityText = Annotated[
    str,
    Meta(
        title="a quantity with its unit, such as 20 inHg",
        description="A quantity with its unit, such as `20 inHg`, or the name of a figure of "
        "the vehicle, such as `air-pump-current`; a bound of it is `air-pump-current.least` or "
        "`air-pump-current.greatest`.",
        extra_json_schema={"pattern": r"[\d½¼¾⅛⅜⅝⅞]|^[a-z][a-z0-9-]*(\.(least|greatest))?$"},
        examples=["20 inHg", "1 1/2 in", "air-pump-current"],
    ),
]
Signal = Literal["danger", "warning", "caution", "notice"]
HAZARDS = (
    "moving-parts",
    "hot-surfaces",
    "raised-car",
    "exhaust-gas",
    "fuel-vapor",
    "pressure",
    "electricity",
    "coolant",
    "road-test",
)
"""Hazards that every book knows; `hazards` of shared.yml adds others."""

FLOWS = ("air", "vacuum", "power", "control", "signal", "exhaust", "fuel", "fuel-vapor", "coolant")
"""What flows between parts in every book; `flows` of shared.yml adds others."""

Standing = Literal["published", "memory", "practice", "workshop"]


class Record(Struct, forbid_unknown_fields=True, rename="kebab", frozen=True, kw_only=True):
    """Base of everything an author writes."""


class Needs(Record, frozen=True, kw_only=True):
    """Which vehicles something is for; a list alone stands for `needs`."""

    needs: Annotated[tuple[Id, ...], Meta(description="Equipment that a vehicle must have.")] = ()
    without: Annotated[
        tuple[Id, ...], Meta(description="Equipment that a vehicle must not have.")
    ] = ()
    any: Annotated[
        tuple[Id, ...], Meta(description="Equipment of which a vehicle must have one or more.")
    ] = ()

    def fits(self, has: Collection[str]) -> bool:
        """Tell whether a vehicle with this equipment is meant."""
        return (
            set(self.needs) <= set(has)
            and not set(self.without) & set(has)
            and (not self.any or bool(set(self.any) & set(has)))
        )

    def __iter__(self) -> Iterator[str]:
        """Give every equipment that it names."""
        return iter((*self.needs, *self.without, *self.any))


SHORTHANDS: dict[type[Struct], str] = {Needs: "needs"}
"""Records for which a list may stand, with the field that it fills."""
