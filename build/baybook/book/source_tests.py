"""What the technician does and sees, as an author writes it."""

from typing import Annotated, Literal

from msgspec import UNSET, Meta, UnsetType

from baybook.book.source_types import (
    MARKED,
    OF_CAR,
    Chance,
    Id,
    MinutesOfCar,
    Needs,
    QuantityText,
    Record,
)


class Limit(Record, frozen=True, kw_only=True):
    """The bounds of a good reading: give `figure`, or `between`, or one or both of the others."""

    between: (
        Annotated[tuple[QuantityText, QuantityText], Meta(description="Least and greatest.")]
        | UnsetType
    ) = UNSET
    at_least: Annotated[QuantityText, Meta(description="Least good value.")] | UnsetType = UNSET
    at_most: Annotated[QuantityText, Meta(description="Greatest good value.")] | UnsetType = UNSET
    figure: (
        Annotated[Id, Meta(description="A figure of the vehicle that holds the bounds.")]
        | UnsetType
    ) = UNSET
    scales_with_air: Annotated[
        bool,
        Meta(description="The bounds hold at sea level and fall with the air pressure."),
    ] = False


class Band(Record, frozen=True, kw_only=True):
    """One of several abnormal outcomes of an observation, with the faults that bring it."""

    says: Annotated[str, Meta(description="The outcome in words, such as `touches ground`.")]
    means: Annotated[
        str, Meta(description="What is wrong with the car where it is so, for the technician.")
    ] = ""
    limit: (
        Annotated[Limit, Meta(description="The bounds of a reading in this band.")] | UnsetType
    ) = UNSET
    shows: Annotated[
        dict[Id, Chance], Meta(description="The faults that bring it, with a chance each.")
    ]
    false_alarm: Annotated[Chance, Meta(description="Chance of it with none of these faults.")] = (
        0.01
    )
    stops: Annotated[
        tuple[Id, ...],
        Meta(description="Tests and set-ups that it forbids until a repair of what it shows."),
    ] = ()


class Observation(Record, frozen=True, kw_only=True):
    """What a test shows: an answer (`asks`, `good`) or a reading held against a limit."""

    asks: Annotated[str, Meta(description="A question answered by yes or no.")] = ""
    good: Annotated[bool, Meta(description="The answer that a good car gives.")] | UnsetType = UNSET
    reading: Annotated[
        str, Meta(description="What is read, such as `Vacuum after one minute`.")
    ] = ""
    kind: Annotated[str, Meta(description="Kind of quantity of the reading.")] = ""
    reference: Annotated[
        Literal["", "vacuum", "gauge", "absolute"],
        Meta(description="How a pressure counts."),
    ] = ""
    units: Annotated[
        tuple[str, ...], Meta(description="Units to write it in: US, then metric.")
    ] = ()
    limit: Annotated[Limit, Meta(description="The bounds of a good reading.")] | UnsetType = UNSET
    gauge: Annotated[Id, Meta(description="The tool that reads it.")] | UnsetType = UNSET
    shows: Annotated[
        dict[Id, Chance],
        Meta(description="The faults that make it abnormal, with a chance each."),
    ] = {}
    false_alarm: Annotated[
        Chance, Meta(description="Chance that it is abnormal with none of these faults.")
    ] = 0.02
    bands: Annotated[
        dict[Id, Band],
        Meta(
            description="In place of `shows`: several abnormal outcomes by name, the one that "
            "hides the others first."
        ),
    ] = {}
    means: Annotated[
        str, Meta(description="What is wrong with the car where it is so, for the technician.")
    ] = ""
    was: Annotated[
        tuple[Id, ...],
        Meta(description="Its earlier ids; the entries of open jobs follow."),
    ] = ()
    normal: Annotated[
        str, Meta(description="The normal outcome in words, for a question with `bands`.")
    ] = ""
    restates_complaint: Annotated[
        bool,
        Meta(
            description="It only says again what the customer or the code said: a cause outside "
            "this procedure shows in it as often as the listed faults do."
        ),
    ] = False
    stops: Annotated[
        tuple[Id, ...],
        Meta(
            description="Tests and set-ups that an abnormal result forbids until a repair of what "
            "it shows."
        ),
    ] = ()

    def shown(self) -> set[str]:
        """Return the faults that it shows, in whatever outcome."""
        return set(self.shows).union(*(band.shows for band in self.bands.values()))


class Embed(Record, frozen=True, kw_only=True):
    """A calculator inside a test, with figures filled in."""

    use: Annotated[str, Meta(description="Id of the calculator.")]
    fields: Annotated[
        dict[str, str],
        Meta(description="Its inputs: a quantity, a choice, or the name of a vehicle's figure."),
    ] = {}


class Uses(Record, frozen=True, kw_only=True):
    """What a test uses up."""

    price: Annotated[
        float,
        Meta(
            ge=0,
            le=1_000_000,
            description="Price of it.",
            extra={OF_CAR: "ratio"},
            extra_json_schema=MARKED,
        ),
    ]
    says: Annotated[str, Meta(description="What it is, such as `propane`.")]


class Test(Record, frozen=True, kw_only=True):
    """One thing the technician does; its section in the body has the same id."""

    title: Annotated[str, Meta(description="What is tested, in a few words.")]
    short: Annotated[
        str, Meta(description="The title in four words or fewer, for cards and drawings.")
    ] = ""
    opening: Annotated[
        bool, Meta(description="Whether it is a cheap look that is done before any planning.")
    ] = False
    uses: Annotated[Uses, Meta(description="What it uses up.")] | UnsetType = UNSET
    minutes: Annotated[MinutesOfCar, Meta(description="Minutes, without the set-up.")]
    setup: Annotated[Id, Meta(description="The set-up that it needs.")] | UnsetType = UNSET
    after: Annotated[
        tuple[Id, ...],
        Meta(description="Tests that come first, to protect a part or a person."),
    ] = ()
    tools: Annotated[tuple[Id, ...], Meta(description="The tools that it uses.")] = ()
    observations: Annotated[dict[Id, Observation], Meta(description="What it shows.")]
    calculator: Annotated[Embed, Meta(description="A calculator to have at hand.")] | UnsetType = (
        UNSET
    )
    when: Annotated[Needs, Meta(description="On which vehicles it is done.")] = Needs()
    was: Annotated[
        tuple[Id, ...],
        Meta(description="Its earlier ids; the entries of open jobs follow."),
    ] = ()
