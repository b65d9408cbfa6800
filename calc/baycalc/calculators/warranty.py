"""The federal emission warranty of the United States: inside or outside, by age and distance."""

import math
from dataclasses import dataclass

from baycalc.forms.declare import (
    Answer,
    Calculator,
    Choice,
    Note,
    Option,
    Quantity,
    Result,
    Source,
)
from baycalc.measurement.decision import FAIL, PASS, Limit, Verdict, judge

_YEAR = 365.25 * 86400.0
_MILE = 1609.344


@dataclass(frozen=True, slots=True)
class _Term:
    """A warranty period: whichever of age and distance comes first ends it."""

    age: float
    distance: float


_ALL_PARTS = _Term(2 * _YEAR, 24000 * _MILE)
_NAMED_PARTS = _Term(8 * _YEAR, 80000 * _MILE)

PARTS = {
    "catalytic converter": _NAMED_PARTS,
    "emission control unit": _NAMED_PARTS,
    "on-board diagnostic device": _NAMED_PARTS,
    "other": _ALL_PARTS,
}
"""Warranty periods by part, 42 USC 7541(i)."""


def warranty(
    part: str, age: float, age_error: float, distance: float, distance_error: float
) -> Answer:
    """Say whether a part lies inside the federal emission warranty.

    Parameters
    ----------
    part : str
        One of `PARTS` [-]
    age : float
        Time since the vehicle was first delivered [s]
    age_error : float
        How far that may be off [s]
    distance : float
        Distance on the odometer [m]
    distance_error : float
        How far that may be off [m]

    Returns
    -------
    Answer
        ``inside``, ``finding``, the verdicts, what is left of the period in s and m.
    """
    term = PARTS[part]
    by_age = _judge(
        age,
        age_error,
        term.age,
        kind="time",
        advice="look up the date of first delivery in the papers of the vehicle",
    )
    by_distance = _judge(
        distance,
        distance_error,
        term.distance,
        kind="distance",
        advice="read the odometer itself, or the distance stored in the control unit",
    )
    inside = by_age.outcome == by_distance.outcome == PASS
    return Answer(
        values={
            "inside": inside,
            "finding": _finding(by_age, by_distance, inside),
            "age_limit": term.age,
            "distance_limit": term.distance,
            "age_verdict": by_age,
            "distance_verdict": by_distance,
            "age_left": max(0.0, term.age - age),
            "distance_left": max(0.0, term.distance - distance),
        },
        notes=_notes(part),
    )


def _judge(reading: float, error: float, limit: float, *, kind: str, advice: str) -> Verdict:
    return judge(reading, error / math.sqrt(3), Limit(high=limit), kind=kind, advice=advice)


def _finding(by_age: Verdict, by_distance: Verdict, inside: bool) -> str:
    if inside:
        return (
            "Inside: a defect of this part is for the maker to repair. Send the owner to a dealer "
            "before you charge for it."
        )
    over = [
        word
        for word, verdict in (("age", by_age), ("distance", by_distance))
        if verdict.outcome == FAIL
    ]
    if over:
        return f"Outside by {' and '.join(over)}: whichever comes first ends the warranty."
    return "Too close to call: ask the dealer, who has the date of first delivery."


def _notes(part: str) -> tuple[Note, ...]:
    told = [
        Note(
            text="This is the federal law of the United States. Other countries and some states "
            "differ, often for longer; a maker may promise more, and a recall or an extended "
            "warranty for one part goes beyond both."
        ),
        Note(
            text="Neglect, misuse and tampering end the claim. Servicing and repair in an "
            "independent shop do not."
        ),
    ]
    if part == "other":
        told.append(
            Note(
                text="The longer period holds only for the catalytic converter, the electronic "
                "emission control unit and the on-board diagnostic device."
            )
        )
    return tuple(told)


CALCULATOR = Calculator(
    id="warranty",
    title="Federal emission warranty",
    summary="Whether a part lies inside the federal emission warranty by the vehicle's age and "
    "distance: 2 years or 24 000 miles, for three named parts 8 years or 80 000 miles.",
    job="Law",
    words=("free repair", "24000 miles", "80000 miles", "Clean Air Act", "catalyst warranty"),
    inputs=(
        Choice(
            id="part",
            label="Part",
            options=(
                Option(value="other", label="any other emission part (pump, valve, sensor, hose)"),
                Option(value="catalytic converter", label="catalytic converter"),
                Option(value="emission control unit", label="electronic emission control unit"),
                Option(value="on-board diagnostic device", label="on-board diagnostic device"),
            ),
            default="other",
        ),
        Quantity(
            id="age",
            label="Age since first delivery",
            kind="time",
            units=("years", "months", "d"),
            default="18 months",
            low="0 d",
            high="60 years",
            help="To the first owner, not from the model year.",
        ),
        Quantity(
            id="age_error",
            label="Age may be off by",
            kind="time",
            units=("months", "d"),
            default="0 d",
            low="0 d",
            high="2 years",
        ),
        Quantity(
            id="distance",
            label="Distance on the odometer",
            kind="distance",
            units=("mi", "km"),
            default="21000 mi",
            low="0 mi",
            high="1000000 mi",
        ),
        Quantity(
            id="distance_error",
            label="Distance may be off by",
            kind="distance",
            units=("mi", "km"),
            default="0 mi",
            low="0 mi",
            high="100000 mi",
        ),
    ),
    results=(
        Result(id="inside", label="Inside the warranty", kind="flag"),
        Result(id="finding", label="Finding", kind="text"),
        Result(id="age_limit", label="Ends at", kind="time", units=("years",), digits=2),
        Result(id="distance_limit", label="or at", kind="distance", units=("mi", "km"), digits=5),
        Result(id="age_left", label="Time left", kind="time", units=("months",), digits=3),
        Result(
            id="distance_left",
            label="Distance left",
            kind="distance",
            units=("mi", "km"),
            digits=4,
        ),
        Result(id="age_verdict", label="Age", kind="verdict", units=("years",), digits=3),
        Result(
            id="distance_verdict", label="Distance", kind="verdict", units=("mi", "km"), digits=5
        ),
    ),
    compute=warranty,
    meaning="The law makes every maker warrant emission parts, whoever owns the vehicle by then. "
    "What comes first, age or distance, ends it. Ask before a part is paid for that the maker "
    "owes.",
    leaves_out="Light vehicles of model year 1995 and later are meant; older and heavier ones have "
    "other periods. Which parts count as emission parts stands in the maker's warranty booklet. "
    "This is not legal advice.",
    sources=(
        Source(text="42 USC 7541(i) (2 years or 24 000 miles; 8 years or 80 000 miles)"),
        Source(text="EPA420-F-96-020, fact sheet on emission warranties of 1995 and newer cars"),
    ),
    examples=(
        {},
        {"age": "3 years", "distance": "30000 mi"},
        {"age": "3 years", "distance": "30000 mi", "part": "catalytic converter"},
        {"age": "7.9 years", "distance": "79000 mi", "part": "emission control unit"},
        {"age": "9 years", "distance": "50000 mi", "part": "on-board diagnostic device"},
        {"age": "20 months", "distance": "24500 mi"},
        {"age": "23 months", "age_error": "2 months"},
        {"age": "700 d", "distance": "38000 km"},
        {"distance": "23990 mi", "distance_error": "100 km"},
        {"age": "5 years", "distance": "130000 km", "part": "catalytic converter"},
        {"age": "0 d", "distance": "0 mi"},
    ),
)
