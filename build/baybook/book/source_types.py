"""The types of single values in the sources, and the base of every record."""

from typing import Annotated, Literal

from msgspec import Meta, Struct

Id = Annotated[
    str,
    Meta(
        pattern=r"^[a-z][a-z0-9-]*$",
        title="a name of lower-case letters, digits and hyphens",
        description="Lower-case letters, digits and hyphens.",
    ),
]
Code = Annotated[
    str,
    Meta(
        pattern=r"^[PBCU][0-3][0-9A-F]{3}$",
        title="a code such as P0410",
        description="A diagnostic trouble code as SAE J2012 writes it, such as `P0410`.",
    ),
]
Chance = Annotated[float, Meta(ge=0, le=1, description="A chance from 0 to 1.")]
Minutes = Annotated[float, Meta(ge=0, le=2000, description="Minutes of work.")]
QuantityText = Annotated[
    str,
    Meta(
        title="a quantity with its unit, such as 20 inHg",
        description="A quantity with its unit, such as `20 inHg`, or the name of a figure of "
        "the vehicle, such as `air-pump-current`; a bound of it is `air-pump-current.least` or "
        "`air-pump-current.greatest`.",
    ),
]
Signal = Literal["danger", "warning", "caution", "notice"]
Hazard = Literal[
    "moving-parts",
    "hot-surfaces",
    "raised-car",
    "exhaust-gas",
    "fuel-vapour",
    "pressure",
    "electricity",
    "coolant",
    "road-test",
]
Flow = Literal[
    "air", "vacuum", "power", "control", "signal", "exhaust", "fuel", "fuel-vapour", "coolant"
]
Standing = Literal["published", "memory", "practice"]


class Record(Struct, forbid_unknown_fields=True, rename="kebab", frozen=True, kw_only=True):
    """Base of everything an author writes."""
