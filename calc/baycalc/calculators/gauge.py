"""What a gauge can prove: its uncertainty along the scale, and the least difference it shows."""

import math
from collections.abc import Callable, Iterator
from dataclasses import replace

from baycalc.forms.declare import Answer, Calculator, refuse
from baycalc.forms.form import (
    choice,
    form,
    from_memory,
    phrases,
    published,
    quantity,
    result,
    taking,
    verdict,
    yes_or_no,
)
from baycalc.forms.shared_inputs import DialGauge, dial_gauge
from baycalc.forms.sources import GUARD_BAND, INCHES
from baycalc.measurement.decision import GUARD_FACTOR, TOO_CLOSE, Limit, Verdict, judge
from baycalc.measurement.instrument import Gauge
from baycalc.measurement.settle import finer_gauge
from baycalc.plot import Axis, Plot
from baycalc.quantities.kinds import PER_CENT, SMALL_PRESSURE, VACUUM, Kind, kind

PRESSURE = kind("pressure", "inHg", "inH2O", "psi", "kPa", "mbar", "mmHg")
_SMALL = 10_000.0


@form
class GaugeAndLimit:
    """A gauge, a reading of it, and the limit that it is held against."""

    gauge: DialGauge = dial_gauge("30 inHg", "B", "0.5 inHg", PRESSURE)
    error_of_reading: float = quantity(
        "Error as a share of the reading", PER_CENT, "0 %", "0 % to 20 %"
    ).says("For digital gauges that state it so; it is added to the grade.")
    extra_uncertainty: float = quantity(
        "Uncertainty of your own", PRESSURE, "0 inHg", "0 Pa to 1 bar"
    ).says("Standard uncertainty that you add, such as for a needle that trembles.")
    reading: float = quantity("Reading", PRESSURE, "19 inHg", "0 Pa to 20 bar").says(
        "Where on the scale, without a minus sign for a vacuum."
    )
    limit: float = quantity("Limit", PRESSURE, "18 inHg", "0 Pa to 20 bar").says(
        "From the maker's manual or the procedure."
    )
    limit_is: str = choice(
        "The limit is", {"least": "the least that passes", "greatest": "the greatest that passes"}
    ).says("A vacuum that must be reached is a least value.")

    def instrument(self) -> Gauge:
        """Return the gauge, with the error that goes with the reading."""
        return replace(self.gauge.gauge(), of_reading=self.error_of_reading)

    def bound(self) -> Limit:
        """Return the limit as the least or the greatest value that passes."""
        return Limit(low=self.limit) if self.limit_is == "least" else Limit(high=self.limit)

    def kind(self) -> Kind:
        """Return the units that figures of this gauge are written in."""
        return SMALL_PRESSURE if self.gauge.span < _SMALL else VACUUM


def gauge(asked: GaugeAndLimit) -> Answer:
    """Say how far a gauge can be trusted and whether it can prove a limit.

    Raises
    ------
    Refusal
        When the reading or the limit lies beyond the scale.
    """
    _refuse(asked)
    reading, standard = asked.reading, _uncertainty(asked)(asked.reading)
    proves = _proves_from(asked)
    return Answer(
        values={
            "greatest_error": asked.instrument().greatest_error(reading),
            "standard_uncertainty": standard,
            "expanded_uncertainty": GUARD_FACTOR * standard,
            "relative_uncertainty": GUARD_FACTOR * standard / reading if reading else None,
            "smallest_difference": _smallest_difference(asked.instrument(), reading),
            "proves_from": proves,
            "can_prove": proves is not None,
            "verdict": _judge(asked, standard),
        },
        notes=tuple(_notes(asked.instrument(), proves)),
        drawing=_draw(asked, standard),
    )


def _uncertainty(asked: GaugeAndLimit) -> Callable[[float], float]:
    """Return the standard uncertainty at a reading, the user's own included [Pa]."""
    instrument, own = asked.instrument(), asked.extra_uncertainty
    return lambda reading: math.hypot(instrument.uncertainty(reading), own)


def _refuse(asked: GaugeAndLimit) -> None:
    span = asked.gauge.span
    beyond = f"The scale of this gauge ends at {asked.kind().written(span)}."
    refuse(
        reading=asked.reading > span * (1 + 1e-9) and beyond,
        limit=asked.limit > span * (1 + 1e-9) and beyond,
        gauge_resolution=asked.gauge.resolution > span and beyond,
    )


def _judge(asked: GaugeAndLimit, standard: float) -> Verdict:
    verdict = judge(asked.reading, standard, asked.bound(), kind=asked.kind())
    if verdict.outcome != TOO_CLOSE:
        return verdict
    return replace(verdict, advice=_advice(asked))


def _advice(asked: GaugeAndLimit) -> str:
    """Return the coarsest change of gauge that would decide."""

    def decides(gauge: Gauge) -> bool:
        standard = math.hypot(gauge.uncertainty(asked.reading), asked.extra_uncertainty)
        return judge(asked.reading, standard, asked.bound()).outcome != TOO_CLOSE

    better = finer_gauge(asked.instrument(), decides)
    if better is not None:
        step = asked.kind().written(better.resolution, digits=2)
        named = f" of grade {better.grade}" if better.grade else ""
        return f"A gauge of this span{named} that can be read to {step} would decide."
    return "Use a gauge of a smaller span, or compare this one with a better gauge at the limit."


def _proves_from(asked: GaugeAndLimit) -> float | None:
    """Return the reading nearest to the limit that passes, if the scale has one [Pa]."""
    away = 1 if asked.limit_is == "least" else -1
    reading, uncertainty = asked.limit, _uncertainty(asked)
    for _ in range(21):
        reading = asked.limit + away * GUARD_FACTOR * uncertainty(reading)
    return reading if 0 <= reading <= asked.gauge.span else None


def _smallest_difference(instrument: Gauge, reading: float) -> float | None:
    """Return the least difference of two readings that is more than their uncertainty [Pa]."""
    low, high = 0.0, max(reading, instrument.span - reading)
    other = 1 if instrument.span - reading >= reading else -1

    def shows(apart: float) -> bool:
        uncertainty = instrument.difference_uncertainty(reading, reading + other * apart)
        return apart >= GUARD_FACTOR * uncertainty

    if not shows(high):
        return None
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (low, middle) if shows(middle) else (middle, high)
    return high if high > 1e-9 * instrument.span else None


def _notes(instrument: Gauge, proves: float | None) -> Iterator[str]:
    if proves is None:
        yield "No reading on this scale can prove the limit: take another gauge."
    if not instrument.grade and not instrument.of_reading:
        yield (
            "Only the resolution is counted here. The gauge may be wrong by far more: compare it "
            "with a good one."
        )


def _draw(asked: GaugeAndLimit, standard: float) -> str:
    """Draw the expanded uncertainty along the scale."""
    kind, span = asked.kind(), asked.gauge.span
    places = [span * step / 80 for step in range(81)]
    uncertainty = _uncertainty(asked)
    along = [(place, GUARD_FACTOR * uncertainty(place)) for place in places]
    greatest = max(height for _, height in along) or span / 100
    plot = Plot(
        "Uncertainty along the scale",
        f"At {kind.written(asked.reading)} the expanded uncertainty is "
        f"{kind.written(GUARD_FACTOR * standard, digits=2)}.",
        Axis.of("Reading", Kind("pressure", kind.units[:1]), 0, span),
        Axis.of("Uncertainty, k = 2", kind, 0, 1.25 * greatest),
    )
    plot.band([(place, 0.0) for place in places], along)
    plot.curve(along, "expanded uncertainty")
    plot.limit(x=asked.limit, label="limit")
    plot.mark(asked.reading, GUARD_FACTOR * standard, "reading")
    return plot.svg()


RESULTS = (
    verdict("verdict", "Verdict", VACUUM).says(
        "The reading held against the limit with a guard band at k = 2."
    ),
    yes_or_no("can_prove", "Can this gauge prove the limit?").says(
        "Whether its scale has a reading that passes."
    ),
    result("proves_from", "Reading that proves it", VACUUM, 3).says(
        "The limit moved by the guard band."
    ),
    result("greatest_error", "Greatest error at the reading", VACUUM, 2).says(
        "By its grade, and by the share of the reading."
    ),
    result("standard_uncertainty", "Standard uncertainty", VACUUM, 2).says(
        "Grade, resolution and your own together."
    ),
    result("expanded_uncertainty", "Expanded uncertainty, k = 2", VACUUM, 2).says(
        "Some 95 % of readings lie within it."
    ),
    result("relative_uncertainty", "As a share of the reading", PER_CENT, 2).says(
        "It grows where the scale begins: use the middle of a scale."
    ),
    result("smallest_difference", "Least difference it can prove", VACUUM, 2).says(
        "Between two readings of this gauge near this place."
    ),
)

CALCULATOR = Calculator(
    **taking(GaugeAndLimit, gauge, measured="gauge_span gauge_grade gauge_resolution"),
    title="What a gauge can prove",
    summary="How far a vacuum or pressure gauge can be wrong, the least difference that it can "
    "prove, and whether it can prove a limit at all.",
    job="Vacuum and pressure",
    words=phrases("accuracy, uncertainty, gauge grade, calibration, manometer, percent of span"),
    results=RESULTS,
    meaning="A grade is a share of the span, not of the reading: the same gauge that is good "
    "enough at 20 inHg is hopeless at 2. Two readings of one gauge close together share most of "
    "its error, so it proves a small fall better than a level. A reading between the limit and "
    "the reading that proves it is too close to call.",
    leaves_out="Dropped, overloaded and uncalibrated gauges: a grade holds for a gauge in good "
    "order at room temperature. That errors along one scale are correlated by one less the "
    "distance as a share of the span is common practice, no source.",
    sources=INCHES
    + published("ASME B40.100 (grade A)")
    + from_memory("ASME B40.100 (the other grades from memory)")
    + published("GUM, JCGM 100:2008, 4.3.7, F.2.2.1 and 5.2.2")
    + GUARD_BAND,
)
