"""The federal emission warranty of the United States: inside or outside, by age and distance."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from baycalc.forms.declare import Answer, Calculator
from baycalc.forms.form import (
    choice,
    form,
    phrases,
    published,
    quantity,
    result,
    taking,
    text,
    verdict,
    yes_or_no,
)
from baycalc.measurement.decision import FAIL, PASS, Limit, Verdict, judge
from baycalc.quantities.kinds import DISTANCE, kind

AGE = kind("time", "years", "months", "d")
AGE_ERROR = kind("time", "months", "d")
YEARS = kind("time", "years")
MONTHS = kind("time", "months")
_YEAR = 365.25 * 86400.0
_MILE = 1609.344


@dataclass(frozen=True, slots=True)
class _Term:
    """A warranty period: whichever of age and distance comes first ends it.

    Parameters
    ----------
    age : float
        Age at which it ends [s]
    distance : float
        Distance at which it ends [m]
    """

    age: float
    distance: float


_ALL_PARTS = _Term(2 * _YEAR, 24000 * _MILE)
_NAMED_PARTS = _Term(8 * _YEAR, 80000 * _MILE)


@form
class Claim:
    """A part, and how old and how far driven the vehicle is."""

    part: str = choice(
        "Part",
        {
            "other": "any other emission part (pump, valve, sensor, hose)",
            "catalytic converter": "catalytic converter",
            "emission control unit": "electronic emission control unit",
            "on-board diagnostic device": "on-board diagnostic device",
        },
    )
    age: float = quantity("Age since first delivery", AGE, "18 months", "0 d to 60 years").says(
        "To the first owner, not from the model year."
    )
    age_error: float = quantity("Age may be off by", AGE_ERROR, "0 d", "0 d to 2 years")
    distance: float = quantity(
        "Distance on the odometer", DISTANCE, "21000 mi", "0 mi to 1000000 mi"
    )
    distance_error: float = quantity(
        "Distance may be off by", DISTANCE, "0 mi", "0 mi to 100000 mi"
    )

    def term(self) -> _Term:
        """Return the period of this part, 42 USC 7541(i)."""
        return _ALL_PARTS if self.part == "other" else _NAMED_PARTS


def warranty(claim: Claim) -> Answer:
    """Say whether a part lies inside the federal emission warranty."""
    term = claim.term()
    by_age = judge(
        claim.age,
        claim.age_error / math.sqrt(3),
        Limit(high=term.age),
        kind=YEARS,
        advice="look up the date of first delivery in the papers of the vehicle",
    )
    by_distance = judge(
        claim.distance,
        claim.distance_error / math.sqrt(3),
        Limit(high=term.distance),
        kind=DISTANCE,
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
            "age_left": max(0.0, term.age - claim.age),
            "distance_left": max(0.0, term.distance - claim.distance),
        },
        notes=tuple(_notes(claim.part)),
    )


def _finding(by_age: Verdict, by_distance: Verdict, inside: bool) -> str:
    if inside:
        return (
            "Inside: a defect of this part is for the maker to repair. Send the owner to a dealer "
            "before you charge for it."
        )
    verdicts = {"age": by_age, "distance": by_distance}
    over = [word for word, verdict in verdicts.items() if verdict.outcome == FAIL]
    if over:
        return f"Outside by {' and '.join(over)}: whichever comes first ends the warranty."
    return "Too close to call: ask the dealer, who has the date of first delivery."


def _notes(part: str) -> Iterator[str]:
    yield (
        "This is the federal law of the United States. Other countries and some states "
        "differ, often for longer; a maker may promise more, and a recall or an extended "
        "warranty for one part goes beyond both."
    )
    yield (
        "Neglect, misuse and tampering end the claim. Servicing and repair in an "
        "independent shop do not."
    )
    if part == "other":
        yield (
            "The longer period holds only for the catalytic converter, the electronic "
            "emission control unit and the on-board diagnostic device."
        )


RESULTS = (
    yes_or_no("inside", "Inside the warranty"),
    text("finding", "Finding"),
    result("age_limit", "Ends at", YEARS, 2),
    result("distance_limit", "or at", DISTANCE, 5),
    result("age_left", "Time left", MONTHS, 3),
    result("distance_left", "Distance left", DISTANCE),
    verdict("age_verdict", "Age", YEARS),
    verdict("distance_verdict", "Distance", DISTANCE, 5),
)

CALCULATOR = Calculator(
    **taking(Claim, warranty),
    title="Federal emission warranty",
    summary="Whether a part lies inside the federal emission warranty by the vehicle's age and "
    "distance: 2 years or 24 000 miles, for three named parts 8 years or 80 000 miles.",
    job="Law",
    words=phrases("free repair, 24000 miles, 80000 miles, Clean Air Act, catalyst warranty"),
    results=RESULTS,
    meaning="The law makes every maker warrant emission parts, whoever owns the vehicle by then. "
    "What comes first, age or distance, ends it. Ask before a part is paid for that the maker "
    "owes.",
    leaves_out="Light vehicles of model year 1995 and later are meant; older and heavier ones have "
    "other periods. Which parts count as emission parts stands in the maker's warranty booklet. "
    "This is not legal advice.",
    sources=published(
        "42 USC 7541(i) (2 years or 24 000 miles; 8 years or 80 000 miles)",
        "EPA420-F-96-020, fact sheet on emission warranties of 1995 and newer cars",
    ),
)
