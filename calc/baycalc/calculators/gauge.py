"""What a gauge can prove: its uncertainty along the scale, and the least difference it shows."""

import math
from dataclasses import replace

from baycalc.forms.declare import (
    Answer,
    Calculator,
    Choice,
    Note,
    Option,
    Quantity,
    Refusal,
    Result,
    Source,
)
from baycalc.forms.shared_inputs import gauge_inputs, gauge_of
from baycalc.measurement.decision import (
    GRADES,
    GUARD_FACTOR,
    TOO_CLOSE,
    Gauge,
    Limit,
    Verdict,
    judge,
)
from baycalc.plot import Axis, Plot
from baycalc.quantities.units import installed, label, written

_UNITS = ("inHg", "kPa")
_PRESSURES = ("inHg", "inH2O", "psi", "kPa", "mbar", "mmHg")
_SMALL = 10_000.0


def gauge(
    gauge_span: float,
    gauge_grade: str,
    gauge_resolution: float,
    error_of_reading: float,
    extra_uncertainty: float,
    reading: float,
    limit: float,
    limit_is: str,
) -> Answer:
    """Say how far a gauge can be trusted and whether it can prove a limit.

    Parameters
    ----------
    gauge_span : float
        Length of the scale [Pa]
    gauge_grade : str
        Accuracy grade, or ``none`` [-]
    gauge_resolution : float
        Smallest step that can be read [Pa]
    error_of_reading : float
        Greatest error as a share of the reading, as digital gauges state it [-]
    extra_uncertainty : float
        Standard uncertainty that the user adds, such as a needle that trembles [Pa]
    reading : float
        What the gauge shows [Pa]
    limit : float
        The limit that the reading is held against [Pa]
    limit_is : str
        ``least`` or ``greatest`` [-]

    Returns
    -------
    Answer
        Uncertainty at the reading, the reading that proves the limit, the least difference.

    Raises
    ------
    Refusal
        When the reading or the limit lies beyond the scale.
    """
    instrument = replace(
        gauge_of(gauge_span, gauge_grade, gauge_resolution), of_reading=error_of_reading
    )
    _refuse(instrument, reading, limit)
    standard = math.hypot(instrument.uncertainty(reading), extra_uncertainty)
    proves = _proves_from(instrument, extra_uncertainty, limit, limit_is)
    verdict = _judge(instrument, reading, standard, limit, limit_is)
    return Answer(
        values={
            "greatest_error": instrument.greatest_error(reading),
            "standard_uncertainty": standard,
            "expanded_uncertainty": GUARD_FACTOR * standard,
            "relative_uncertainty": GUARD_FACTOR * standard / reading if reading else None,
            "smallest_difference": _smallest_difference(instrument, reading),
            "proves_from": proves,
            "can_prove": proves is not None,
            "verdict": verdict,
        },
        notes=_notes(instrument, proves),
        drawing=_draw(instrument, extra_uncertainty, reading, standard, limit),
    )


def _refuse(instrument: Gauge, reading: float, limit: float) -> None:
    scale = written("pressure", instrument.span, *_shown_in(instrument.span))
    beyond = f"The scale of this gauge ends at {scale}."
    problems = {
        name: beyond
        for name, value in (("reading", reading), ("limit", limit))
        if value > instrument.span * (1 + 1e-9)
    }
    if instrument.resolution > instrument.span:
        problems["gauge_resolution"] = beyond
    if problems:
        raise Refusal(problems)


def _limit(limit: float, limit_is: str) -> Limit:
    return Limit(low=limit) if limit_is == "least" else Limit(high=limit)


def _judge(
    instrument: Gauge, reading: float, standard: float, limit: float, limit_is: str
) -> Verdict:
    verdict = judge(
        reading,
        standard,
        _limit(limit, limit_is),
        kind="pressure",
        units=_shown_in(instrument.span),
    )
    if verdict.outcome != TOO_CLOSE:
        return verdict
    return replace(verdict, advice=_advice(instrument, reading, limit, limit_is))


def _advice(instrument: Gauge, reading: float, limit: float, limit_is: str) -> str:
    """Return the coarsest change of gauge that would decide."""
    here = GRADES.index(instrument.grade) if instrument.grade else 0
    for grade in [instrument.grade, *reversed(GRADES[:here])]:
        for share in (1.0, 0.5, 0.2, 0.1):
            better = replace(instrument, grade=grade, resolution=instrument.resolution * share)
            held = judge(reading, better.uncertainty(reading), _limit(limit, limit_is))
            if held.outcome != TOO_CLOSE:
                step = written("pressure", better.resolution, *_shown_in(instrument.span), digits=2)
                named = f" of grade {grade}" if grade else ""
                return f"A gauge of this span{named} that can be read to {step} would decide."
    return "Use a gauge of a smaller span, or compare this one with a better gauge at the limit."


def _proves_from(
    instrument: Gauge, extra_uncertainty: float, limit: float, limit_is: str
) -> float | None:
    """Return the reading nearest to the limit that passes, if the scale has one."""
    away = 1 if limit_is == "least" else -1
    guard = GUARD_FACTOR * math.hypot(instrument.uncertainty(limit), extra_uncertainty)
    for _ in range(20):
        reading = limit + away * guard
        guard = GUARD_FACTOR * math.hypot(instrument.uncertainty(reading), extra_uncertainty)
    return reading if 0 <= reading <= instrument.span else None


def _smallest_difference(instrument: Gauge, reading: float) -> float | None:
    """Return the least difference between two readings that is more than their uncertainty."""
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


def _notes(instrument: Gauge, proves: float | None) -> tuple[Note, ...]:
    found = []
    if proves is None:
        found.append("No reading on this scale can prove the limit: take another gauge.")
    if not instrument.grade and not instrument.of_reading:
        found.append(
            "Only the resolution is counted here. The gauge may be wrong by far more: compare it "
            "with a good one."
        )
    return tuple(Note(text=text) for text in found)


def _shown_in(span: float) -> tuple[str, str]:
    return ("inH2O", "kPa") if span < _SMALL else _UNITS


def _draw(
    instrument: Gauge, extra_uncertainty: float, reading: float, standard: float, limit: float
) -> str:
    """Draw the expanded uncertainty along the scale."""
    unit, other = _shown_in(instrument.span)
    to_unit = installed().unit("pressure", unit).from_si
    steps = [instrument.span * step / 80 for step in range(81)]
    along = [
        (
            to_unit(place),
            to_unit(GUARD_FACTOR * math.hypot(instrument.uncertainty(place), extra_uncertainty)),
        )
        for place in steps
    ]
    greatest = max(height for _, height in along) or to_unit(instrument.span) / 100
    plot = Plot(
        "Uncertainty along the scale",
        f"At {written('pressure', reading, unit, other)} the expanded uncertainty is "
        f"{written('pressure', GUARD_FACTOR * standard, unit, other, digits=2)}.",
        Axis("Reading", 0, to_unit(instrument.span), unit=label(unit)),
        Axis(
            "Uncertainty, k = 2",
            0,
            1.25 * greatest,
            unit=label(unit),
            also=(other, installed().unit("pressure", other).from_si(1) / to_unit(1)),
        ),
    )
    plot.band([(place, 0.0) for place, _ in along], along)
    plot.curve(along, "expanded uncertainty")
    plot.limit(x=to_unit(limit), label="limit")
    plot.mark(to_unit(reading), to_unit(GUARD_FACTOR * standard), "reading")
    return plot.svg()


CALCULATOR = Calculator(
    id="gauge",
    title="What a gauge can prove",
    summary="How far a vacuum or pressure gauge can be wrong, the least difference that it can "
    "prove, and whether it can prove a limit at all.",
    job="Vacuum and pressure",
    words=("accuracy", "uncertainty", "gauge grade", "calibration", "manometer", "percent of span"),
    inputs=(
        *gauge_inputs("30 inHg", "B", "0.5 inHg", _PRESSURES),
        Quantity(
            id="error_of_reading",
            label="Error as a share of the reading",
            kind="ratio",
            units=("%",),
            default="0 %",
            low="0 %",
            high="20 %",
            help="For digital gauges that state it so; it is added to the grade.",
        ),
        Quantity(
            id="extra_uncertainty",
            label="Uncertainty of your own",
            kind="pressure",
            units=_PRESSURES,
            default="0 inHg",
            low="0 Pa",
            high="1 bar",
            help="Standard uncertainty that you add, such as for a needle that trembles.",
        ),
        Quantity(
            id="reading",
            label="Reading",
            kind="pressure",
            units=_PRESSURES,
            default="19 inHg",
            low="0 Pa",
            high="20 bar",
            help="Where on the scale, without a minus sign for a vacuum.",
        ),
        Quantity(
            id="limit",
            label="Limit",
            kind="pressure",
            units=_PRESSURES,
            default="18 inHg",
            low="0 Pa",
            high="20 bar",
            help="From the maker's manual or the procedure.",
        ),
        Choice(
            id="limit_is",
            label="The limit is",
            options=(
                Option(value="least", label="the least that passes"),
                Option(value="greatest", label="the greatest that passes"),
            ),
            default="least",
            help="A vacuum that must be reached is a least value.",
        ),
    ),
    results=(
        Result(
            id="verdict",
            label="Verdict",
            kind="verdict",
            units=_UNITS,
            digits=3,
            help="The reading held against the limit with a guard band at k = 2.",
        ),
        Result(
            id="can_prove",
            label="Can this gauge prove the limit?",
            kind="flag",
            help="Whether its scale has a reading that passes.",
        ),
        Result(
            id="proves_from",
            label="Reading that proves it",
            kind="pressure",
            units=_UNITS,
            digits=3,
            help="The limit moved by the guard band.",
        ),
        Result(
            id="greatest_error",
            label="Greatest error at the reading",
            kind="pressure",
            units=_UNITS,
            digits=2,
            help="By its grade, and by the share of the reading.",
        ),
        Result(
            id="standard_uncertainty",
            label="Standard uncertainty",
            kind="pressure",
            units=_UNITS,
            digits=2,
            help="Grade, resolution and your own together.",
        ),
        Result(
            id="expanded_uncertainty",
            label="Expanded uncertainty, k = 2",
            kind="pressure",
            units=_UNITS,
            digits=2,
            help="Some 95 % of readings lie within it.",
        ),
        Result(
            id="relative_uncertainty",
            label="As a share of the reading",
            kind="ratio",
            units=("%",),
            digits=2,
            help="It grows where the scale begins: use the middle of a scale.",
        ),
        Result(
            id="smallest_difference",
            label="Least difference it can prove",
            kind="pressure",
            units=_UNITS,
            digits=2,
            help="Between two readings of this gauge near this place.",
        ),
    ),
    compute=gauge,
    meaning="A grade is a share of the span, not of the reading: the same gauge that is good "
    "enough at 20 inHg is hopeless at 2. Two readings of one gauge close together share most of "
    "its error, so it proves a small fall better than a level. A reading between the limit and "
    "the reading that proves it is too close to call.",
    leaves_out="Dropped, overloaded and uncalibrated gauges: a grade holds for a gauge in good "
    "order at room temperature. That errors along one scale are correlated by one less the "
    "distance as a share of the span is common practice, no source.",
    sources=(
        Source(text="ASME B40.100 (grade A)"),
        Source(text="ASME B40.100 (the other grades from memory)", standing="memory"),
        Source(text="GUM, JCGM 100:2008, 4.3.7, F.2.2.1 and 5.2.2"),
        Source(text="JCGM 106:2012; ILAC-G8:09/2019 (guard band at k = 2)"),
    ),
    examples=(
        {},
        {"reading": "20 inHg"},
        {"reading": "16 inHg"},
        {"reading": "18.2 inHg", "gauge_grade": "2A", "gauge_resolution": "0.1 inHg"},
        {"gauge_grade": "none"},
        {"gauge_grade": "none", "gauge_resolution": "0 inHg", "reading": "0 inHg"},
        {
            "gauge_span": "15 inH2O",
            "reading": "7 inH2O",
            "limit": "6 inH2O",
            "gauge_resolution": "0.25 inH2O",
            "gauge_grade": "A",
        },
        {
            "gauge_span": "100 kPa",
            "reading": "45,5 kPa",
            "limit": "46 kPa",
            "limit_is": "greatest",
            "gauge_resolution": "0.1 kPa",
            "gauge_grade": "none",
            "error_of_reading": "1 %",
        },
        {"reading": "29 inHg", "limit": "28.9 inHg", "gauge_grade": "D"},
        {
            "reading": "3 inHg",
            "limit": "2 inHg",
            "limit_is": "greatest",
            "extra_uncertainty": "0.2 inHg",
        },
        {
            "gauge_span": "160 psi",
            "reading": "58 psi",
            "limit": "55 psi",
            "gauge_grade": "1A",
            "gauge_resolution": "1 psi",
        },
    ),
)
