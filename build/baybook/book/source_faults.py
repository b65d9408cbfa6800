"""How parts fail, and what mending them takes, as an author writes it."""

from typing import Annotated

from msgspec import UNSET, Meta, UnsetType

from baybook.book.bounds import GREATEST_PRICE, GREATEST_WEIGHT
from baybook.book.source_types import MARKED, OF_CAR, Chance, Code, Id, MinutesOfCar, Needs, Record


class KnockOn(Record, frozen=True, kw_only=True):
    """How a fault causes another one."""

    chance: Annotated[Chance, Meta(description="Chance that it has caused it already.")]
    later: Annotated[
        Chance,
        Meta(description="Chance that it shows only after the first fault was repaired."),
    ] = 0.0
    says: Annotated[str, Meta(description="How, in one sentence.")] = ""


class Repair(Record, frozen=True, kw_only=True):
    """What mending a fault takes."""

    minutes: Annotated[MinutesOfCar, Meta(description="Minutes of work.")]
    price: Annotated[
        float,
        Meta(
            ge=0,
            le=GREATEST_PRICE,
            description="Price of the parts.",
            extra={OF_CAR: "ratio"},
            extra_json_schema=MARKED,
        ),
    ] = 0.0
    section: Annotated[Id, Meta(description="Id of the section that describes it.")]
    also_cures: (
        Annotated[
            tuple[Id, ...],
            Meta(
                description="Other faults that it clears. Left out, a repair that fits a new part "
                "(its section begins with `fit-`) clears every fault of the same `part` with the "
                "same section and price; `[]` means its own alone."
            ),
        ]
        | UnsetType
    ) = UNSET


class Fault(Record, frozen=True, kw_only=True):
    """One way in which one part fails."""

    part: Annotated[Id, Meta(description="The part that fails.")]
    says: Annotated[str, Meta(description="How it fails, such as `seized`.")]
    short: Annotated[
        str, Meta(description="Part and failure in four words or fewer, such as `Pump seized`.")
    ] = ""
    often: Annotated[
        float,
        Meta(
            gt=0,
            le=GREATEST_WEIGHT,
            description="How often, relative to the procedure's other faults.",
            extra={OF_CAR: "ratio"},
            extra_json_schema=MARKED,
        ),
    ]
    sets: Annotated[
        dict[Code, Chance], Meta(description="The codes that it stores, with a chance each.")
    ] = {}
    complaints: Annotated[
        dict[Id, Chance],
        Meta(description="The complaints that it brings, with a chance each."),
    ] = {}
    present: Annotated[
        float,
        Meta(
            gt=0,
            le=1,
            description="Chance that it is there at one test; below 1 it comes and goes.",
        ),
    ] = 1.0
    leads_to: Annotated[dict[Id, KnockOn], Meta(description="Its knock-on faults.")] = {}
    repair: Annotated[Repair, Meta(description="What mending it takes.")]
    when: Annotated[Needs, Meta(description="Which vehicles can have this fault.")] = Needs()
    was: Annotated[
        tuple[Id, ...],
        Meta(description="Its earlier ids; the entries of open jobs follow."),
    ] = ()
