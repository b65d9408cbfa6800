"""Warranties of a vehicle: a period of years and miles, and how a car stands to it."""

import calendar
import math
from dataclasses import dataclass
from datetime import date

from baycalc.measurement.decision import FAIL, PASS, Limit, Verdict, judge
from baycalc.quantities.kinds import DISTANCE, kind

DAY = 86400.0
"""One day [s]."""

YEAR = 365.25 * DAY
"""One year on the average [s]."""

MILE = 1609.344
"""One mile [m]."""

YEARS = kind("time", "years")
DAYS = kind("time", "d")
_NEAR = 20 * DAY


@dataclass(frozen=True, slots=True, kw_only=True)
class Age:
    """How old and how far driven a car is.

    Parameters
    ----------
    elapsed : float
        Time since first delivery [s]
    error : float
        How far that may be off [s]
    distance : float
        Distance driven [m]
    distance_error : float
        How far that may be off [m]
    delivered : date
        Day of first delivery, or ``None`` where only the age is known
    """

    elapsed: float
    error: float
    distance: float
    distance_error: float
    delivered: date | None = None

    def ends(self, years: int) -> float:
        """Return the age at which a period ends: on the same day of the year, by the calendar.

        Parameters
        ----------
        years : int
            Years of the period [years]

        Returns
        -------
        float
            Age [s]
        """
        first = self.delivered
        if first is None:
            return years * YEAR
        last = first.year + years
        if (first.month, first.day) == (2, 29) and not calendar.isleap(last):
            return (date(last, 3, 1) - first).days * DAY
        return (first.replace(year=last) - first).days * DAY


@dataclass(frozen=True, slots=True)
class Warranty:
    """A warranty that holds or may hold; whichever of age and distance comes first ends it.

    Parameters
    ----------
    name : str
        Whose it is
    years : int
        Age at which it ends [years]
    miles : int
        Distance at which it ends [mi]
    sure : bool
        Whether it holds for this car for certain
    age : Age
        The car
    """

    name: str
    years: int
    miles: int
    sure: bool
    age: Age

    def by_age(self) -> Verdict:
        """Hold the age against the period, in days where years would hide the difference."""
        ends = self.age.ends(self.years)
        return judge(
            self.age.elapsed,
            self.age.error / math.sqrt(3),
            Limit(high=ends),
            kind=DAYS if abs(self.age.elapsed - ends) < _NEAR else YEARS,
            advice="look up the date of first delivery in the papers of the vehicle",
        )

    def by_distance(self) -> Verdict:
        """Hold the distance against the period."""
        return judge(
            self.age.distance,
            self.age.distance_error / math.sqrt(3),
            Limit(high=self.miles * MILE),
            kind=DISTANCE,
            advice="read the odometer itself, or the distance stored in the control unit",
        )

    def state(self) -> str:
        """Return ``inside``, ``outside`` or ``too close to call``."""
        outcomes = (self.by_age().outcome, self.by_distance().outcome)
        if FAIL in outcomes:
            return "outside"
        return "inside" if outcomes == (PASS, PASS) else "too close to call"

    def says(self) -> str:
        """Say how the car stands to it."""
        verdicts = {"age": self.by_age(), "distance": self.by_distance()}
        over = [word for word, verdict in verdicts.items() if verdict.outcome == FAIL]
        why = f" by {' and '.join(over)}" if over else ""
        held = "" if self.sure else ", if it holds for this car"
        return f"{self.years} years or {self.miles // 1000} 000 miles: {self.state()}{why}{held}"
