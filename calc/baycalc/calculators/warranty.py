"""The emission warranties of the United States by date and distance: inside, outside, not sure."""

from collections.abc import Iterator
from datetime import date

from baycalc.forms.declare import Answer, Calculator, Refusal, Value, refuse
from baycalc.forms.form import (
    choice,
    form,
    from_memory,
    phrases,
    published,
    quantity,
    result,
    taking,
    text,
    typed_text,
    verdict,
)
from baycalc.measurement.decision import FAIL, PASS, TOO_CLOSE
from baycalc.quantities.kinds import DISTANCE, kind
from baycalc.vehicle.warranties import DAY, MILE, YEARS, Age, Warranty

AGE = kind("time", "years", "months", "d")
AGE_ERROR = kind("time", "d", "months")
MONTHS = kind("time", "months")
_NAMED = ("catalytic converter", "emission control unit", "on-board diagnostic device")
_BEFORE = "The claim cannot lie before the first delivery."
_ANSWERS = {"no": "no", "yes": "yes", "unknown": "not sure"}


@form
class Claim:
    """A part, where the car belongs, and how old and how far driven it is."""

    part: str = choice(
        "Part",
        {
            "other": "any other emission part (pump, valve, sensor, hose)",
            "catalytic converter": "catalytic converter",
            "emission control unit": "electronic emission control unit",
            "on-board diagnostic device": "on-board diagnostic device",
            "listed": "a part on the booklet's list for 7 years or 70 000 miles",
        },
    )
    certified: str = choice(
        "The car is certified",
        {"federal": "federal only", "california": "for California", "unknown": "not sure"},
    ).says("The label under the hood says so.")
    registered: str = choice(
        "Registered in California, or a state with its warranty", _ANSWERS
    ).says("Ask the dealer where you are not sure: states differ.", "certified=california|unknown")
    low_class: str = choice("Of a class with 15 years or 150 000 miles", _ANSWERS).says(
        "Partial zero-emission cars and some hybrids; label or booklet says so.",
        "certified=california|unknown",
    )
    age_from: str = choice("Age from", {"dates": "two dates", "age": "the age"})
    delivered: str = typed_text("First delivery", "2024-05-20", 10).says(
        "Year-month-day, to the first owner; not the model year, not the registration.",
        "age_from=dates",
    )
    claimed: str = typed_text("Date of the claim", "2025-11-26", 10).says(
        "Year-month-day; mostly today.", "age_from=dates"
    )
    age: float = quantity("Age since first delivery", AGE, "18 months", "0 d to 60 years").says(
        "To the first owner, not from the model year.", "age_from=age"
    )
    age_error: float = quantity("Age may be off by", AGE_ERROR, "1 d", "0 d to 2 years").says(
        "The day itself counts neither way."
    )
    distance: float = quantity(
        "Distance on the odometer", DISTANCE, "21000 mi", "0 mi to 1000000 mi"
    )
    distance_error: float = quantity(
        "Distance may be off by", DISTANCE, "0 mi", "0 mi to 100000 mi"
    )

    def days(self) -> tuple[date, date]:
        """Return the days of first delivery and of the claim."""
        return _day("delivered", self.delivered), _day("claimed", self.claimed)

    def car(self) -> Age:
        """Return how old and how far driven the car is."""
        delivered, elapsed = None, self.age
        if self.age_from == "dates":
            delivered, claimed = self.days()
            refuse(claimed=claimed < delivered and _BEFORE)
            elapsed = (claimed - delivered).days * DAY
        return Age(
            elapsed=elapsed,
            error=self.age_error,
            distance=self.distance,
            distance_error=self.distance_error,
            delivered=delivered,
        )

    def california(self) -> str:
        """Return whether the warranty of California holds: ``yes``, ``no`` or ``unknown``."""
        if self.certified == "federal" or self.registered == "no":
            return "no"
        return "yes" if self.certified == "california" and self.registered == "yes" else "unknown"


def warranty(claim: Claim) -> Answer:
    """Say whether a part lies inside the emission warranties of the United States.

    Raises
    ------
    Refusal
        When a date is none, or the claim lies before the delivery.
    """
    found = list(_warranties(claim))
    shown = max((each for each in found if each.sure), key=lambda each: each.years)
    inside = _inside(found)
    values: dict[str, Value] = {
        "inside": inside,
        "finding": _finding(inside),
        "age_limit": shown.age.ends(shown.years),
        "distance_limit": shown.miles * MILE,
        "age_verdict": shown.by_age(),
        "distance_verdict": shown.by_distance(),
        "age_left": max(0.0, shown.age.ends(shown.years) - shown.age.elapsed),
        "distance_left": max(0.0, shown.miles * MILE - claim.distance),
    }
    values |= {each.name: each.says() for each in found}
    return Answer(values=values, notes=tuple(_notes(claim, shown)))


def _day(name: str, typed: str) -> date:
    try:
        day = date.fromisoformat(typed.strip())
    except ValueError:
        day = date.min
    if not 1980 <= day.year <= 2100:
        raise Refusal({name: "Expected a date as year-month-day, such as 2024-05-20."})
    return day


def _warranties(claim: Claim) -> Iterator[Warranty]:
    """Give the warranties that hold or may hold, 42 USC 7541(i) and 13 CCR 2037, 2038, 1962."""
    car, named, listed = claim.car(), claim.part in _NAMED, claim.part == "listed"
    yield Warranty("federal", *((8, 80000) if named else (2, 24000)), True, car)
    california = claim.california()
    if california == "no":
        return
    sure = california == "yes"
    yield Warranty("california", *((7, 70000) if listed else (3, 50000)), sure, car)
    if claim.low_class != "no":
        yield Warranty("low_class", 15, 150000, sure and claim.low_class == "yes", car)


def _inside(found: list[Warranty]) -> str:
    if any(each.sure and each.state() == "inside" for each in found):
        return "yes"
    return "no" if all(each.state() == "outside" for each in found) else "not sure"


def _finding(inside: str) -> str:
    if inside == "yes":
        return (
            "Inside: a defect of this part is for the maker to repair. Send the owner to a dealer "
            "before you charge for it."
        )
    if inside == "no":
        return "Outside: whichever of age and distance comes first ends a warranty."
    return (
        "Not sure: ask the dealer, who has the date of first delivery and the booklet, before you "
        "charge for it."
    )


def _notes(claim: Claim, shown: Warranty) -> Iterator[str]:
    yield (
        "This is the law of the United States; other countries differ. A maker may promise more, "
        "and a recall or an extended warranty for one part goes beyond it."
    )
    yield (
        "Service in an independent shop and a change of owner do not end a warranty. Misuse, "
        "neglect and tampering may end the claim for what they caused."
    )
    if claim.part not in _NAMED:
        yield (
            "The federal period of 8 years holds for the catalytic converter, the electronic "
            "emission control unit and the on-board diagnostic device; from model year 2027 on for "
            "some more parts: see the booklet."
        )
    if len(list(_warranties(claim))) > 1:
        yield f"Inside one of them is inside. The figures are those of {shown.years} years."


RESULTS = (
    text("inside", "Inside a warranty").concludes({"yes": PASS, "no": FAIL, "not sure": TOO_CLOSE}),
    text("finding", "Finding"),
    text("federal", "Federal"),
    text("california", "California"),
    text("low_class", "Low-emission class"),
    result("age_limit", "Ends at", YEARS, 3),
    result("distance_limit", "or at", DISTANCE, 5),
    result("age_left", "Time left", MONTHS, 3),
    result("distance_left", "Distance left", DISTANCE, 4),
    verdict("age_verdict", "Age", YEARS, aside=True),
    verdict("distance_verdict", "Distance", DISTANCE, 5, aside=True),
)

CALCULATOR = Calculator(
    **taking(Claim, warranty, question="part"),
    title="Emission warranty",
    summary="Whether a part lies inside the emission warranties of the United States by two dates "
    "and the odometer: federal 2 years or 24 000 miles, for named parts 8 years or 80 000 miles; "
    "California's longer ones.",
    job="Law",
    words=phrases("free repair, 24000 miles, 80000 miles, Clean Air Act, catalyst warranty"),
    results=RESULTS,
    meaning="The law makes every maker warrant emission parts, whoever owns the vehicle by then. "
    "What comes first, age or distance, ends it. Federal and California's warranties are rights "
    "beside each other: inside either is inside. Ask before a part is paid for that the maker "
    "owes.",
    leaves_out="Light vehicles of model year 1995 and later are meant; older and heavier ones have "
    "other periods. Which parts count as emission parts, and which have 7 years in California, "
    "stands in the maker's warranty booklet. The anniversary itself is too close to call. "
    "This is not legal advice.",
    sources=published(
        "42 USC 7541(i) (2 years or 24 000 miles; 8 years or 80 000 miles)",
        "EPA420-F-96-020, fact sheet on emission warranties of 1995 and newer cars",
        "13 CCR 2035 to 2038 (California: 3 years or 50 000 miles)",
    )
    + from_memory(
        "13 CCR 2037(c) (7 years or 70 000 miles for listed parts)",
        "13 CCR 1962 to 1962.2 (15 years or 150 000 miles)",
    ),
)
