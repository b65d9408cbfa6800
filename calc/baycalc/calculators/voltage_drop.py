"""What a line should drop, and what a measured drop says: how much too much, and on which side."""

from dataclasses import dataclass

from baycalc.forms.declare import (
    Answer,
    Calculator,
    HandOver,
    Note,
    Quantity,
    Refusal,
    Result,
    Source,
    Value,
)
from baycalc.forms.shared_inputs import meter_inputs
from baycalc.measurement.decision import FAIL, Gauge, Limit, Verdict, judge
from baycalc.physics.copper import wire_resistance
from baycalc.quantities.units import written

_SMALL_LOAD = 1.0
_CRITICAL_SHARE = 0.03
_GREATEST_SHARE = 0.10
_HOT_JOINT = 5.0


@dataclass(frozen=True, slots=True)
class _Side:
    """The feed or the return of a circuit: what it should drop and what was measured."""

    name: str
    expected: float
    measured: float | None
    verdict: Verdict | None

    def excess(self) -> float | None:
        """Return the drop that conductors and joints do not account for [V]."""
        return None if self.measured is None else max(0.0, self.measured - self.expected)


def voltage_drop(
    load: float,
    supply: float,
    feed_conductor: float,
    feed_length: float,
    feed_joints: float,
    return_conductor: float,
    return_length: float,
    return_joints: float,
    joint_resistance: float,
    temperature: float,
    feed_measured: float | None,
    feed_allowed: float,
    return_measured: float | None,
    return_allowed: float,
    meter_error: float,
    meter_step: float,
) -> Answer:
    """Work out the drop of feed and return, and what is too much in a measured one.

    Parameters
    ----------
    load : float
        Current while the drop is measured [A]
    supply : float
        Voltage at the battery while the load runs [V]
    feed_conductor : float
        Cross-section of the feed [m2]
    feed_length : float
        Length of the feed, battery or fuse to load [m]
    feed_joints : float
        Contacts in the feed [-]
    return_conductor : float
        Cross-section of the return [m2]
    return_length : float
        Length of the return, load to ground point [m]
    return_joints : float
        Contacts in the return [-]
    joint_resistance : float
        Resistance of one good contact [ohm]
    temperature : float
        Temperature of the conductors [K]
    feed_measured : float
        Drop measured along the feed, or ``None`` [V]
    feed_allowed : float
        Greatest drop allowed along the feed [V]
    return_measured : float
        Drop measured along the return, or ``None`` [V]
    return_allowed : float
        Greatest drop allowed along the return [V]
    meter_error : float
        Greatest error of the voltmeter as a share of the reading [-]
    meter_step : float
        Smallest step of the voltmeter [V]

    Returns
    -------
    Answer
        Expected drops in V, resistances too much in ohm, their heat in W, verdicts.

    Raises
    ------
    Refusal
        When the conductors alone would take the whole supply, or a drop exceeds the supply.
    """
    meter = Gauge(of_reading=meter_error, resolution=meter_step)
    joint = load * joint_resistance
    feed = _side(
        "feed",
        load * wire_resistance(feed_conductor, feed_length, temperature) + feed_joints * joint,
        feed_measured,
        feed_allowed,
        meter,
    )
    back = _side(
        "return",
        load * wire_resistance(return_conductor, return_length, temperature)
        + return_joints * joint,
        return_measured,
        return_allowed,
        meter,
    )
    _refuse_impossible(feed, back, supply)
    total = feed.expected + back.expected
    values: dict[str, Value] = {
        "feed_expected": feed.expected,
        "return_expected": back.expected,
        "total_expected": total,
        "total_share": total / supply,
        "load_voltage": supply - _taken(feed) - _taken(back),
        "finding": _finding(feed, back),
    }
    values |= _side_values(feed, load) | _side_values(back, load)
    return Answer(values=values, notes=_notes(feed, back, load, total / supply))


def _side(
    name: str, expected: float, measured: float | None, allowed: float, meter: Gauge
) -> _Side:
    verdict = None
    if measured is not None:
        verdict = judge(
            measured,
            meter.uncertainty(measured),
            Limit(high=allowed),
            kind="voltage",
            advice="measure on a finer range of the meter, with the full load running",
        )
    return _Side(name=name, expected=expected, measured=measured, verdict=verdict)


def _taken(side: _Side) -> float:
    return side.expected if side.measured is None else side.measured


def _refuse_impossible(feed: _Side, back: _Side, supply: float) -> None:
    if feed.expected + back.expected >= supply:
        raise Refusal(
            {
                "load": "No such current can flow: the conductors and joints alone would take "
                f"{written('voltage', feed.expected + back.expected, 'V')}."
            }
        )
    if _taken(feed) + _taken(back) >= supply:
        side = "feed" if _taken(feed) >= _taken(back) else "return"
        raise Refusal(
            {
                f"{side}_measured": "The drops together cannot reach the supply while the load "
                "runs: measure along the lead, not across the load."
            }
        )


def _side_values(side: _Side, load: float) -> dict[str, Value]:
    excess = side.excess()
    return {
        f"{side.name}_verdict": side.verdict,
        f"{side.name}_excess": None if excess is None else excess / load,
        f"{side.name}_heat": None if excess is None else excess * load,
    }


def _finding(feed: _Side, back: _Side) -> str:
    if feed.verdict is None and back.verdict is None:
        return "Nothing measured yet: these are the drops that a sound line should show."
    bad = [side for side in (feed, back) if side.verdict and side.verdict.outcome == FAIL]
    if not bad:
        return "No side that was measured drops too much for certain."
    if len(bad) == 2:
        return f"Both sides drop too much; more of it sits on the {_worse(feed, back).name} side."
    return f"The resistance too much sits on the {bad[0].name} side."


def _worse(feed: _Side, back: _Side) -> _Side:
    return feed if (feed.excess() or 0.0) >= (back.excess() or 0.0) else back


def _notes(feed: _Side, back: _Side, load: float, share: float) -> tuple[Note, ...]:
    told = []
    if load < _SMALL_LOAD:
        told.append(
            Note(
                text="With so little current a bad joint hardly shows: measure with the full load "
                "running."
            )
        )
    if share > _GREATEST_SHARE:
        told.append(Note(text="Even in good order this line drops more than 10 %: it is too thin."))
    elif share > _CRITICAL_SHARE:
        told.append(
            Note(
                text="In good order this line drops more than the 3 % that boat builders allow a "
                "critical load."
            )
        )
    heat = max((side.excess() or 0.0) * load for side in (feed, back))
    if heat > _HOT_JOINT:
        told.append(
            Note(
                text=f"{written('power', heat, 'W')} in one bad joint melts a connector: touching "
                "it burns. Switch off and let it cool before you open it.",
                signal="caution",
            )
        )
    return tuple(told)


def _conductor(side: str, size: str, length: str, joints: str) -> tuple[Quantity, ...]:
    return (
        Quantity(
            id=f"{side}_conductor",
            label=f"Conductor of the {side}",
            kind="area",
            units=("AWG", "mm2"),
            default=size,
            low="0.1 mm2",
            high="110 mm2",
        ),
        Quantity(
            id=f"{side}_length",
            label=f"Length of the {side}",
            kind="length",
            units=("ft", "m"),
            default=length,
            low="0.05 m",
            high="50 m",
        ),
        Quantity(
            id=f"{side}_joints",
            label=f"Contacts in the {side}",
            kind="ratio",
            units=("1",),
            default=joints,
            low="0",
            high="50",
            help="Count a fuse as two, a relay contact as one, a connector pin as one.",
        ),
    )


def _measured(side: str, allowed: str) -> tuple[Quantity, ...]:
    return (
        Quantity(
            id=f"{side}_measured",
            label=f"Drop measured along the {side}",
            kind="voltage",
            units=("V", "mV"),
            default=None,
            low="0 V",
            high="60 V",
            help="Both probes on the same side of the circuit, with the load running.",
        ),
        Quantity(
            id=f"{side}_allowed",
            label=f"Drop allowed along the {side}",
            kind="voltage",
            units=("V", "mV"),
            default=allowed,
            low="0.001 V",
            high="10 V",
        ),
    )


def _side_results(side: str) -> tuple[Result, ...]:
    return (
        Result(
            id=f"{side}_verdict",
            label=f"Drop of the {side}",
            kind="verdict",
            units=("V",),
            digits=3,
        ),
        Result(
            id=f"{side}_excess",
            label=f"Resistance too much in the {side}",
            kind="resistance",
            units=("mohm",),
            digits=3,
        ),
        Result(
            id=f"{side}_heat",
            label=f"Heat of it in the {side}",
            kind="power",
            units=("W",),
            digits=3,
        ),
    )


CALCULATOR = Calculator(
    id="voltage_drop",
    title="Voltage drop of feed and return",
    summary="What a line should drop under load, and what a measured drop says: how much "
    "resistance is too much, on which side, and how hot it gets.",
    job="Electrical",
    words=("bad ground", "ground side", "corroded connector", "millivolt", "wire size", "ohm"),
    inputs=(
        Quantity(
            id="load",
            label="Load current",
            kind="current",
            units=("A", "mA"),
            default="18 A",
            low="0.01 A",
            high="500 A",
        ),
        Quantity(
            id="supply",
            label="Voltage at the battery, load running",
            kind="voltage",
            units=("V",),
            default="13.5 V",
            low="4 V",
            high="60 V",
        ),
        *_conductor("feed", "AWG 12", "8 ft", "5"),
        *_conductor("return", "AWG 12", "2 ft", "2"),
        Quantity(
            id="joint_resistance",
            label="Resistance of one good contact",
            kind="resistance",
            units=("mohm",),
            default="1 mohm",
            low="0 mohm",
            high="100 mohm",
            help="1 mΩ is an example for a clean power terminal.",
        ),
        Quantity(
            id="temperature",
            label="Temperature of the conductors",
            kind="temperature",
            units=("°F", "°C"),
            default="40 °C",
            low="-50 °C",
            high="150 °C",
        ),
        *_measured("feed", "0.5 V"),
        *_measured("return", "0.1 V"),
        *meter_inputs("voltmeter", "voltage", ("V", "mV"), "0.5 %", "0.01 V"),
    ),
    results=(
        Result(id="finding", label="Finding", kind="text"),
        Result(
            id="feed_expected", label="Feed should drop", kind="voltage", units=("V",), digits=3
        ),
        Result(
            id="return_expected",
            label="Return should drop",
            kind="voltage",
            units=("V",),
            digits=3,
        ),
        Result(id="total_expected", label="Both together", kind="voltage", units=("V",), digits=3),
        Result(id="total_share", label="Share of the supply", kind="ratio", units=("%",), digits=2),
        Result(
            id="load_voltage", label="Left for the load", kind="voltage", units=("V",), digits=4
        ),
        *_side_results("feed"),
        *_side_results("return"),
    ),
    compute=voltage_drop,
    meaning="A line that tests good with an ohmmeter can still starve a load: a few milliohms show "
    "only when the current flows. Measure along each side while the load runs. What the copper "
    "and sound contacts explain is not a fault; the rest is one bad joint more often than not, "
    "and it is warm.",
    leaves_out="The limits of 0.5 V and 0.1 V are common practice; a maker's figure goes first. A "
    "body or engine block used as return is taken as a conductor of the size that you give. Drop "
    "in the battery and its posts is not part of the line.",
    sources=(
        Source(text="IEC 60028, ASTM B258 (annealed copper, wire gauges)"),
        Source(text="ABYC E-11 (3 % for critical loads, 10 % for others)"),
        Source(text="Feed 0.2 to 0.5 V, ground 0.1 V under load", standing="practice"),
    ),
    hands_over=(
        HandOver(
            to="fuse",
            label="Fuse for this line",
            carries={
                "load": "load",
                "supply": "supply",
                "conductor": "feed_conductor",
                "length": "feed_length",
            },
        ),
    ),
    examples=(
        {},
        {"feed_measured": "0.9 V", "return_measured": "0.05 V"},
        {"feed_measured": "0.3 V", "return_measured": "1.2 V"},
        {"feed_measured": "0.5 V", "return_measured": "100 mV"},
        {"feed_measured": "1.4 V", "return_measured": "0.8 V", "load": "25 A"},
        {"load": "300 mA", "feed_conductor": "AWG 20", "feed_length": "12 ft"},
        {
            "load": "10 A",
            "feed_conductor": "1 mm2",
            "feed_length": "8 m",
            "return_length": "8 m",
            "return_conductor": "1 mm2",
        },
        {
            "load": "120 A",
            "feed_conductor": "25 mm2",
            "return_conductor": "25 mm2",
            "joint_resistance": "0.2 mohm",
            "temperature": "176 °F",
        },
        {"return_measured": "0.09 V", "meter_step": "1 mV", "meter_error": "1 %"},
        {"supply": "27 V", "load": "8", "feed_joints": "0", "return_joints": "0"},
        {
            "load": "5 A",
            "feed_length": "30 ft",
            "feed_conductor": "AWG 18",
            "temperature": "-20 °C",
        },
    ),
)
