"""The vehicle identification number: is it whole, and which model year does it mean."""

from collections.abc import Iterator

from baycalc.forms.declare import Answer, Calculator, Note, Value, refuse
from baycalc.forms.form import (
    YES_IS_GOOD,
    choice,
    form,
    phrases,
    published,
    taking,
    text,
    typed_text,
    yes_or_no,
)
from baycalc.vehicle import identification as number_of


@form
class Identification:
    """A number as it was read off the car, and where the car was made for."""

    number: str = typed_text("Vehicle identification number", "1M8GDM9AXKP042788", 40).says(
        "17 characters; on the plate behind the windshield, on the door pillar and in the papers."
    )
    market: str = choice(
        "The car was made for",
        {"north america": "the United States or Canada", "other": "another place"},
    ).says("Only North America (and some others) ask for the check digit.")


def vin(asked: Identification) -> Answer:
    """Check a vehicle identification number and read the model year.

    Raises
    ------
    Refusal
        When it has characters that cannot be, or not 17 of them.
    """
    number = number_of.plain(asked.number)
    refuse(number=number_of.problem(number) or False)
    needed, stands = number_of.check_digit(number), number[number_of.CHECK_POSITION - 1]
    years = number_of.model_years(number)
    asks = asked.market == "north america" or number_of.is_north_american(number)
    values: dict[str, Value] = {
        "finding": _finding(needed == stands, asks),
        "check_fits": needed == stands if asks or needed == stands else None,
        "check_digit": f"{stands} stands at place 9, {needed} belongs there",
        "model_year": _years(years, number),
        "place": number_of.place(number),
        "maker": number[:3],
        "serial": number[11:],
        "written": f"{number[:3]} {number[3:8]} {number[8]} {number[9]} {number[10]} {number[11:]}",
    }
    return Answer(values=values, notes=tuple(_notes(needed == stands, asks, years)))


def _finding(fits: bool, asks: bool) -> str:
    if fits:
        return "The check digit fits: the number was read without a mistake, most likely."
    if asks:
        return "The check digit does not fit: a character was misread, or this is no true number."
    return "It has no check digit, as is usual outside North America: read it twice."


def _years(years: tuple[int, ...], number: str) -> str:
    if not years:
        return "none: place 10 holds no year"
    likely, other = years
    if number_of.is_north_american(number):
        return f"{likely} (or {other} for a truck or bus)"
    return f"{min(years)} or {max(years)}, where the maker tells it at all"


def _notes(fits: bool, asks: bool, years: tuple[int, ...]) -> Iterator[Note | str]:
    if asks and not fits:
        yield Note(
            "Do not order parts or file a record by this number before it is read again at the "
            "car: B and 8, S and 5, Z and 2 are mixed up most.",
            signal="notice",
        )
    if years:
        yield "The model year is not the day of first delivery: a warranty counts from that."


RESULTS = (
    text("finding", "Finding"),
    yes_or_no("check_fits", "Check digit fits").concludes(YES_IS_GOOD),
    text("model_year", "Model year"),
    text("place", "Maker's code given in"),
    text("maker", "Maker's code"),
    text("serial", "Serial number"),
    text("check_digit", "Check digit"),
    text("written", "In its parts").says("Maker, description, check digit, year, plant, serial."),
)

CALCULATOR = Calculator(
    **taking(Identification, vin),
    title="Vehicle identification number",
    summary="Whether a vehicle identification number was read without a mistake (check digit), "
    "which model year it means, and its parts.",
    job="Vehicle",
    words=phrases("VIN, chassis number, check digit, model year, plate"),
    results=RESULTS,
    meaning="The number ties a record, a part and a recall to one car, so read it off the car, not "
    "off the papers. The ninth character is worked out from the other sixteen: one that is misread "
    "or two that are changed over nearly always spoil it. The control unit tells its number too "
    "(service 09): another one there means another unit.",
    leaves_out="Which maker a code belongs to, and what the description means, is the maker's. "
    "Cars from before model year 1981 have numbers of their own. A wrong character can fit by "
    "chance, one time in eleven.",
    sources=published(
        "49 CFR 565.15 (check digit, Table III to VI; model year, Table VII)",
        "ISO 3779, ISO 3780 (characters, first character)",
    ),
)
