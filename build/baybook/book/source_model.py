"""The book as data: procedures and vehicles as an author writes them, typed.

Each field says in its description what it means; the JSON Schema and the reference pages are
made from these. Quantities stay texts here (``20 inHg``, or the name of a vehicle's figure);
`baybook.book.checks.check_book` holds them against their kind.
"""

from typing import Annotated, Literal

from msgspec import UNSET, Meta, Struct, UnsetType

from baybook.book.bounds import GREATEST_PRICE, GREATEST_WEIGHT

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


class Safety(Record, frozen=True, kw_only=True):
    """A safety message: hazard, what happens, how to avoid it (ANSI Z535.6)."""

    signal: Annotated[Signal, Meta(description="Signal word of ANSI Z535.")]
    hazard: Annotated[str, Meta(description="What can hurt.")]
    result: Annotated[str, Meta(description="What happens then.")]
    avoid: Annotated[str, Meta(description="How to avoid it.")]
    covers: Annotated[
        tuple[Hazard, ...],
        Meta(description="The hazards of set-ups that this message speaks of."),
    ] = ()


class Gauge(Record, frozen=True, kw_only=True):
    """How well a tool measures; a reading's uncertainty comes from here."""

    span: Annotated[QuantityText, Meta(description="Length of the scale.")] | UnsetType = UNSET
    grade: Annotated[
        Literal["4A", "3A", "2A", "1A", "A", "B", "C", "D", ""],
        Meta(description="Accuracy grade of ASME B40.100."),
    ] = ""
    resolution: (
        Annotated[QuantityText, Meta(description="Smallest step that can be read.")] | UnsetType
    ) = UNSET
    of_reading: Annotated[
        float, Meta(ge=0, le=1, description="Greatest error as a share of the reading.")
    ] = 0.0


class Tool(Record, frozen=True, kw_only=True):
    """A tool that tests use."""

    name: Annotated[str, Meta(description="What it is called in the trade.")]
    gauges: Annotated[
        dict[str, Gauge],
        Meta(description="Its scales, by kind of quantity (`pressure`, `voltage` ...)."),
    ] = {}


class Part(Record, frozen=True, kw_only=True):
    """A component of the system; the diagram is drawn from `joins`."""

    name: Annotated[str, Meta(description="What it is called in the trade.")]
    joins: Annotated[
        dict[Flow, tuple[Id, ...]],
        Meta(description="The parts that it leads to, by what flows there."),
    ] = {}
    when: Annotated[
        tuple[Id, ...], Meta(description="Equipment a vehicle must have for this part.")
    ] = ()


class Setup(Record, frozen=True, kw_only=True):
    """The state of the car that a test needs; changing into it costs minutes."""

    says: Annotated[str, Meta(description="The state in words, as an order to the technician.")]
    minutes: Annotated[Minutes, Meta(description="Minutes of work to change into it.")]
    wait: (
        Annotated[
            QuantityText,
            Meta(
                description="Time that the car must stand first, such as `8 h`; nobody works "
                "meanwhile, but the car is not back."
            ),
        ]
        | UnsetType
    ) = UNSET
    state: Annotated[
        Literal["cold", "warm", "raised", ""],
        Meta(
            description="The state that a car may come in; one that is in it already costs no "
            "waiting."
        ),
    ] = ""
    hazards: Annotated[
        tuple[Hazard, ...],
        Meta(description="Its hazards; each must be covered by a safety message."),
    ] = ()


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

    minutes: Annotated[Minutes, Meta(description="Minutes of work.")]
    price: Annotated[float, Meta(ge=0, le=GREATEST_PRICE, description="Price of the parts.")] = 0.0
    section: Annotated[Id, Meta(description="Id of the section that describes it.")]
    also_cures: (
        Annotated[
            tuple[Id, ...],
            Meta(
                description="Other faults that it clears. Left out, a repair that fits a part "
                "clears every fault of the same `part` with the same section and price; `[]` "
                "means its own alone."
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
    when: Annotated[
        tuple[Id, ...], Meta(description="Equipment a vehicle must have for this fault.")
    ] = ()


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

    price: Annotated[float, Meta(ge=0, le=1_000_000, description="Price of it.")]
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
    minutes: Annotated[Minutes, Meta(description="Minutes, without the set-up.")]
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
    when: Annotated[
        tuple[Id, ...], Meta(description="Equipment a vehicle must have for this test.")
    ] = ()


class Needs(Record, frozen=True, kw_only=True):
    """Which vehicles a procedure serves."""

    needs: Annotated[tuple[Id, ...], Meta(description="Equipment that a vehicle must have.")] = ()
    without: Annotated[
        tuple[Id, ...], Meta(description="Equipment that a vehicle must not have.")
    ] = ()


class Source(Record, frozen=True, kw_only=True):
    """Where a statement or figure of the procedure comes from."""

    text: Annotated[str, Meta(description="Document and clause or table.")]
    standing: Annotated[
        Standing, Meta(description="Published, from memory, or common practice.")
    ] = "published"


class Procedure(Record, frozen=True, kw_only=True):
    """One Markdown source: from a complaint to a proven repair of one system."""

    title: Annotated[str, Meta(description="System and how it is built.")]
    summary: Annotated[str, Meta(description="One sentence: the complaint and what this proves.")]
    system: Annotated[Id, Meta(description="The emission control that a monitor watches.")]
    vehicles: Annotated[Needs, Meta(description="Which vehicles it serves.")] = Needs()
    codes: Annotated[tuple[Code, ...], Meta(description="The codes that lead here.")]
    complaints: Annotated[
        dict[Id, str],
        Meta(description="What a customer says or a technician notices, in their words, by name."),
    ] = {}
    symptoms: Annotated[
        tuple[str, ...],
        Meta(description="The old name of `complaints`; it tells the plan nothing."),
    ] = ()
    outside: Annotated[
        float,
        Meta(
            ge=0,
            lt=1,
            description="Share of a cause outside the listed faults, before anything is known.",
        ),
    ] = 0.05
    outside_with: Annotated[
        dict[Code, Chance],
        Meta(description="That share where a code is stored; of several codes the least counts."),
    ] = {}
    tools: Annotated[
        dict[Id, Tool], Meta(description="Tools that the shared file does not have.")
    ] = {}
    shared_safety: Annotated[
        tuple[Id, ...], Meta(description="Safety messages of the shared file, by name.")
    ] = ()
    safety: Annotated[tuple[Safety, ...], Meta(description="Safety messages of its own.")] = ()
    parts: Annotated[dict[Id, Part], Meta(description="The parts of the system.")]
    setups: Annotated[
        dict[Id, Setup], Meta(description="Set-ups that the shared file does not have.")
    ] = {}
    faults: Annotated[dict[Id, Fault], Meta(description="The faults that it can find.")]
    ambiguity_groups: Annotated[
        tuple[tuple[Id, ...], ...],
        Meta(
            description="Groups of faults that no test separates on some car (IEEE Std 1522); "
            "their repairs are tried one after the other."
        ),
    ] = ()
    tests: Annotated[dict[Id, Test], Meta(description="The tests, in the order of the page.")]
    recheck: Annotated[Minutes, Meta(description="Minutes that the proof of a repair takes.")] = 15
    leads_on: Annotated[
        dict[Id, str],
        Meta(description="Other procedures that the job can lead into, with the reason."),
    ] = {}
    sources: Annotated[tuple[Source, ...], Meta(description="Where its figures come from.")]

    def complaint_texts(self) -> tuple[str, ...]:
        """Return what customers say, also where a source has the old `symptoms`."""
        return (*self.complaints.values(), *self.symptoms)


class CodeEntry(Record, frozen=True, kw_only=True):
    """What a book says of a code."""

    title: Annotated[str, Meta(description="Its title, where it is no code of SAE J2012.")] = ""
    suppresses: Annotated[
        tuple[Code, ...],
        Meta(description="Codes that are not set while this one is; their absence tells nothing."),
    ] = ()


class OpeningStep(Record, frozen=True, kw_only=True):
    """A step at the start of every job, such as the codes with their freeze frame."""

    title: Annotated[str, Meta(description="What is done, in a few words.")]
    says: Annotated[str, Meta(description="How, in a few sentences.")]
    minutes: Annotated[Minutes, Meta(description="Minutes of work.")] = 2


class Shared(Record, frozen=True, kw_only=True):
    """What all procedures of a book share: tools, set-ups and messages by name, and codes."""

    tools: Annotated[dict[Id, Tool], Meta(description="The tools of the bay.")] = {}
    setups: Annotated[dict[Id, Setup], Meta(description="States of the car.")] = {}
    safety: Annotated[dict[Id, Safety], Meta(description="Safety messages.")] = {}
    codes_need: Annotated[
        dict[Code, tuple[Id, ...]],
        Meta(description="Equipment without which a vehicle cannot store a code."),
    ] = {}
    codes: Annotated[dict[Code, CodeEntry], Meta(description="What is to be said of a code.")] = {}
    opening: Annotated[
        dict[Id, OpeningStep], Meta(description="Steps at the start of every job, in their order.")
    ] = {}


class Figure(Record, frozen=True, kw_only=True):
    """A figure that differs by car: give `value`, or `between`, or a bound, or only `where`."""

    says: Annotated[str, Meta(description="What it is a figure of.")]
    value: Annotated[QuantityText, Meta(description="The figure.")] | UnsetType = UNSET
    between: (
        Annotated[tuple[QuantityText, QuantityText], Meta(description="Least and greatest.")]
        | UnsetType
    ) = UNSET
    at_least: Annotated[QuantityText, Meta(description="Least good value.")] | UnsetType = UNSET
    at_most: Annotated[QuantityText, Meta(description="Greatest good value.")] | UnsetType = UNSET
    where: Annotated[str, Meta(description="Where it is found on the car.")] = ""


class Vehicle(Record, frozen=True, kw_only=True):
    """A profile with the figures that differ by car."""

    name: Annotated[str, Meta(description="Make, model and years.")]
    engine: Annotated[str, Meta(description="The engine in a few words.")]
    invented: Annotated[bool, Meta(description="Whether car and figures are invented.")] = False
    about: Annotated[str, Meta(description="What is worth knowing about the car.")] = ""
    has: Annotated[tuple[Id, ...], Meta(description="The equipment that procedures ask for.")]
    figures: Annotated[dict[Id, Figure], Meta(description="The figures, by name.")]


SYSTEMS = {
    "secondary-air": "Secondary air system",
    "evaporative": "Evaporative system",
    "egr": "EGR system",
    "catalyst": "Catalyst",
    "oxygen-sensor": "Oxygen sensor",
    "oxygen-sensor-heater": "Oxygen sensor heater",
    "fuel-system": "Fuel system",
    "misfire": "Misfire",
    "components": "Comprehensive components",
    "crankcase-ventilation": "Crankcase ventilation",
    "cooling-system": "Engine cooling system",
    "vacuum-supply": "Vacuum supply",
    "all-monitors": "All monitors",
}
"""Systems that an on-board monitor watches (names of SAE J1979), and those that serve them."""
