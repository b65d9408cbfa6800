"""The book as data: procedures and vehicles as an author writes them, typed.

Each field says in its description what it means; the JSON Schema and the reference pages are
made from these. Quantities stay texts here (``20 inHg``, or the name of a vehicle's figure);
`baybook.book.checks.check_book` holds them against their kind.
"""

from typing import Annotated, Literal

from msgspec import UNSET, Meta, UnsetType

from baybook.book.source_faults import Fault, KnockOn, Repair
from baybook.book.source_tests import Band, Embed, Limit, Observation, Test, Uses
from baybook.book.source_types import (
    Chance,
    Code,
    Id,
    Minutes,
    MinutesOfCar,
    Needs,
    QuantityText,
    Record,
    Signal,
    Standing,
)

Percent = Annotated[float, Meta(ge=0, le=100, description="Per cent of width or height.")]

__all__ = [
    "SYSTEMS",
    "Band",
    "Chance",
    "Code",
    "CodeEntry",
    "Connector",
    "Embed",
    "Fault",
    "Figure",
    "Gauge",
    "Id",
    "KnockOn",
    "Limit",
    "Minutes",
    "Needs",
    "Observation",
    "OpeningStep",
    "Part",
    "Picture",
    "Pin",
    "Procedure",
    "QuantityText",
    "Record",
    "Repair",
    "Safety",
    "Setup",
    "Shared",
    "Signal",
    "Source",
    "Standing",
    "Test",
    "Tool",
    "Uses",
    "Vehicle",
]


class Safety(Record, frozen=True, kw_only=True):
    """A safety message: hazard, what happens, how to avoid it (ANSI Z535.6)."""

    signal: Annotated[Signal, Meta(description="Signal word of ANSI Z535.")]
    hazard: Annotated[str, Meta(description="What can hurt.")]
    result: Annotated[str, Meta(description="What happens then.")]
    avoid: Annotated[str, Meta(description="How to avoid it.")]
    covers: Annotated[
        tuple[Id, ...],
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
        dict[Id, tuple[Id, ...]],
        Meta(description="The parts that it leads to, by what flows there."),
    ] = {}
    when: Annotated[Needs, Meta(description="Which vehicles have this part.")] = Needs()


class Setup(Record, frozen=True, kw_only=True):
    """The state of the car that a test needs; changing into it costs minutes."""

    says: Annotated[str, Meta(description="The state in words, as an order to the technician.")]
    minutes: Annotated[MinutesOfCar, Meta(description="Minutes of work to change into it.")]
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
        tuple[Id, ...],
        Meta(description="Its hazards; each must be covered by a safety message."),
    ] = ()


class Picture(Record, frozen=True, kw_only=True):
    """A picture with what it shows; with `marks` it is a drawing of the system too."""

    file: Annotated[str, Meta(description="The file, seen from the source, such as `img/bay.jpg`.")]
    alt: Annotated[str, Meta(description="What it shows, for those who cannot see it.")]
    caption: Annotated[str, Meta(description="What stands below it.")] = ""
    marks: Annotated[
        dict[Id, tuple[Percent, Percent]],
        Meta(description="Parts on it: per cent from the left and from the top, by the part."),
    ] = {}


class Source(Record, frozen=True, kw_only=True):
    """Where a statement or figure of the procedure comes from."""

    text: Annotated[str, Meta(description="Document and clause or table.")]
    standing: Annotated[
        Standing,
        Meta(
            description="Published, from memory, common practice, or from the workshop's own jobs."
        ),
    ] = "published"


class Procedure(Record, frozen=True, kw_only=True):
    """One Markdown source: from a complaint to a proven repair of one system."""

    title: Annotated[str, Meta(description="System and how it is built.")]
    summary: Annotated[str, Meta(description="One sentence: the complaint and what this proves.")]
    system: Annotated[Id, Meta(description="The emission control that a monitor watches.")]
    vehicles: Annotated[Needs, Meta(description="Which vehicles it serves.")] = Needs()
    codes: Annotated[tuple[Code, ...], Meta(description="The codes that lead here.")]
    code_titles: Annotated[
        dict[Code, str],
        Meta(description="Titles of codes of makers, where they mean something else elsewhere."),
    ] = {}
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
    pictures: Annotated[
        dict[Id, Picture],
        Meta(description="Pictures of its own, by name; `picture` in braces shows one."),
    ] = {}
    recheck: Annotated[Minutes, Meta(description="Minutes that the proof of a repair takes.")] = 15
    known: Annotated[
        tuple[str, ...],
        Meta(
            description="Values that `baybook learn` leaves alone, by place, such as "
            "`faults.pump-seized.often`; a place stands for all below it."
        ),
    ] = ()
    leads_on: Annotated[
        dict[Id, str],
        Meta(description="Other procedures that the job can lead into; the reason in Markdown."),
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
    systems: Annotated[
        dict[Id, str], Meta(description="Systems that this book adds, with their titles.")
    ] = {}
    hazards: Annotated[
        dict[Id, str], Meta(description="Hazards that this book adds, each in a few words.")
    ] = {}
    flows: Annotated[
        dict[Id, str],
        Meta(description="What flows between parts in this book beside the usual, in words."),
    ] = {}
    codes_need: Annotated[
        dict[Code, tuple[Id, ...]],
        Meta(description="Equipment without which a vehicle cannot store a code."),
    ] = {}
    codes: Annotated[dict[Code, CodeEntry], Meta(description="What is to be said of a code.")] = {}
    opening: Annotated[
        dict[Id, OpeningStep], Meta(description="Steps at the start of every job, in their order.")
    ] = {}
    equipment: Annotated[
        dict[Id, str],
        Meta(description="Equipment in words, such as `electric air pump`, by the name in `has`."),
    ] = {}
    words: Annotated[
        dict[str, tuple[str, ...]],
        Meta(
            description="What people type, such as `smog pump`, and the words of the book for it."
        ),
    ] = {}

    def equipment_words(self, equipment: str) -> str:
        """Return an item of equipment in words."""
        return self.equipment.get(equipment, equipment.replace("-", " "))


class Figure(Record, frozen=True, kw_only=True):
    """A figure that differs by car: give `value`, `between`, a bound, `text`, or only `where`."""

    says: Annotated[str, Meta(description="What it is a figure of.")]
    value: Annotated[QuantityText, Meta(description="The figure.")] | UnsetType = UNSET
    between: (
        Annotated[tuple[QuantityText, QuantityText], Meta(description="Least and greatest.")]
        | UnsetType
    ) = UNSET
    at_least: Annotated[QuantityText, Meta(description="Least good value.")] | UnsetType = UNSET
    at_most: Annotated[QuantityText, Meta(description="Greatest good value.")] | UnsetType = UNSET
    text: Annotated[
        str, Meta(description="What is no quantity: a wire's color, a pin, a fluid, a part number.")
    ] = ""
    where: Annotated[str, Meta(description="Where it is found on the car.")] = ""


class Pin(Record, frozen=True, kw_only=True):
    """One pin of a connector."""

    wire: Annotated[str, Meta(description="Color of its wire, as the maker's plan has it.")] = ""
    to: Annotated[str, Meta(description="Where the wire leads.")] = ""
    carries: Annotated[str, Meta(description="What is to be read there, and when.")] = ""


class Connector(Record, frozen=True, kw_only=True):
    """A connector of a vehicle; `pins` in braces draws it as a table."""

    says: Annotated[str, Meta(description="What it is the connector of.")]
    where: Annotated[str, Meta(description="Where it is found on the car.")] = ""
    pins: Annotated[dict[str, Pin], Meta(description="Its pins, by their number or letter.")]


class Vehicle(Record, frozen=True, kw_only=True):
    """A profile with the figures that differ by car."""

    name: Annotated[str, Meta(description="Make, model and years.")]
    engine: Annotated[str, Meta(description="The engine in a few words.")]
    invented: Annotated[bool, Meta(description="Whether car and figures are invented.")] = False
    about: Annotated[str, Meta(description="What is worth knowing, in Markdown.")] = ""
    has: Annotated[tuple[Id, ...], Meta(description="The equipment that procedures ask for.")]
    code_titles: Annotated[
        dict[Code, str], Meta(description="What its maker calls codes of its own.")
    ] = {}
    figures: Annotated[dict[Id, Figure], Meta(description="The figures, by name.")]
    connectors: Annotated[
        dict[Id, Connector], Meta(description="Its connectors with their pins, by name.")
    ] = {}


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
