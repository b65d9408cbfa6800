"""What a line should drop, and what a measured drop says: how much too much, and on which side."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from baycalc.forms.declare import Answer, Calculator, Note, Refusal, Result, Value, refuse
from baycalc.forms.form import (
    Group,
    form,
    hand_over,
    phrases,
    practice,
    published,
    quantity,
    result,
    taking,
    text,
    verdict,
)
from baycalc.forms.shared_inputs import Conductor, Meter, electric_meter, wire
from baycalc.measurement.decision import FAIL, Limit, Verdict, judge
from baycalc.physics.copper import wire_resistance
from baycalc.quantities.kinds import (
    CURRENT,
    MILLIOHMS,
    PER_CENT,
    TEMPERATURE,
    VOLTAGE,
    VOLTS,
    WATTS,
)

_SMALL_LOAD = 1.0
_CRITICAL_SHARE = 0.03
_GREATEST_SHARE = 0.10
_HOT_JOINT = 5.0


@dataclass(frozen=True, slots=True)
class _Drop:
    """The drop that was measured along one side, and the one that is allowed.

    Parameters
    ----------
    measured : float
        Drop measured, or ``None`` [V]
    allowed : float
        Greatest drop allowed [V]
    """

    measured: float | None
    allowed: float


def _drop(side: str, allowed: str) -> Any:
    measured = quantity(f"Drop measured along the {side}", VOLTAGE, None, "0 V to 60 V")
    asked = {
        "measured": measured.says(
            "Both probes on the same side of the circuit, with the load running."
        ),
        "allowed": quantity(f"Drop allowed along the {side}", VOLTAGE, allowed, "0.001 V to 10 V"),
    }
    return Group(_Drop, asked, f"{side}_{{}}")


@form
class LoadLine:
    """A load with its feed and return, and the drops measured along them."""

    load: float = quantity("Load current", CURRENT, "18 A", "0.01 A to 500 A")
    supply: float = quantity("Voltage at the battery, load running", VOLTS, "13.5 V", "4 V to 60 V")
    feed: Conductor = wire("feed", "AWG 12", "8 ft", "5")
    back: Conductor = wire("return", "AWG 12", "2 ft", "2")
    joint_resistance: float = quantity(
        "Resistance of one good contact", MILLIOHMS, "1 mohm", "0 mohm to 100 mohm"
    ).says("1 mΩ is an example for a clean power terminal.")
    temperature: float = quantity(
        "Temperature of the conductors", TEMPERATURE, "40 °C", "-50 °C to 150 °C"
    )
    feed_drop: _Drop = _drop("feed", "0.5 V")
    back_drop: _Drop = _drop("return", "0.1 V")
    meter: Meter = electric_meter("voltmeter", VOLTAGE, "0.5 %", "0.01 V")

    def side(self, name: str) -> "_Side":
        """Return the feed or the return."""
        line, drop = (self.feed, self.feed_drop) if name == "feed" else (self.back, self.back_drop)
        joint = self.load * self.joint_resistance
        copper = wire_resistance(line.conductor, line.length, self.temperature)
        measured, verdict = drop.measured, None
        if measured is not None:
            verdict = judge(
                measured,
                self.meter.gauge().uncertainty(measured),
                Limit(high=drop.allowed),
                kind=VOLTS,
                advice="measure on a finer range of the meter, with the full load running",
            )
        return _Side(name, self.load * copper + line.joints * joint, measured, verdict)


@dataclass(frozen=True, slots=True)
class _Side:
    """The feed or the return of a circuit: what it should drop and what was measured.

    Parameters
    ----------
    name : str
        ``feed`` or ``return``
    expected : float
        What it should drop [V]
    measured : float
        Drop measured, or ``None`` [V]
    verdict : Verdict
        The drop held against what is allowed, or ``None``
    """

    name: str
    expected: float
    measured: float | None
    verdict: Verdict | None

    def excess(self) -> float | None:
        """Return the drop that conductors and joints do not account for, or ``None`` [V]."""
        return None if self.measured is None else max(0.0, self.measured - self.expected)

    def taken(self) -> float:
        """Return the drop, measured where it was [V]."""
        return self.expected if self.measured is None else self.measured

    def values(self, load: float) -> dict[str, Value]:
        """Return the results of this side under a load [A]."""
        excess = self.excess()
        return {
            f"{self.name}_verdict": self.verdict,
            f"{self.name}_excess": None if excess is None else excess / load,
            f"{self.name}_heat": None if excess is None else excess * load,
        }


def voltage_drop(circuit: LoadLine) -> Answer:
    """Work out the drop of feed and return, and what is too much in a measured one.

    Raises
    ------
    Refusal
        When the conductors alone would take the whole supply, or a drop exceeds the supply.
    """
    feed, back = circuit.side("feed"), circuit.side("return")
    total = feed.expected + back.expected
    _refuse_impossible(feed, back, total, circuit.supply)
    values: dict[str, Value] = {
        "feed_expected": feed.expected,
        "return_expected": back.expected,
        "total_expected": total,
        "total_share": total / circuit.supply,
        "load_voltage": circuit.supply - feed.taken() - back.taken(),
        "finding": _finding(feed, back),
    }
    values |= feed.values(circuit.load) | back.values(circuit.load)
    return Answer(
        values=values, notes=tuple(_notes(feed, back, circuit.load, total / circuit.supply))
    )


def _refuse_impossible(feed: _Side, back: _Side, total: float, supply: float) -> None:
    refuse(
        load=total >= supply
        and "No such current can flow: the conductors and joints alone would take "
        f"{VOLTS.written(total)}."
    )
    if feed.taken() + back.taken() >= supply:
        side = feed if feed.taken() >= back.taken() else back
        told = (
            "The drops together cannot reach the supply while the load runs: measure along the "
            "lead, not across the load."
        )
        raise Refusal({f"{side.name}_measured": told})


def _finding(feed: _Side, back: _Side) -> str:
    if feed.verdict is None and back.verdict is None:
        return "Nothing measured yet: these are the drops that a sound line should show."
    bad = [side for side in (feed, back) if side.verdict and side.verdict.outcome == FAIL]
    if not bad:
        return "No side that was measured drops too much for certain."
    if len(bad) == 2:
        worse = feed if (feed.excess() or 0.0) >= (back.excess() or 0.0) else back
        return f"Both sides drop too much; more of it sits on the {worse.name} side."
    return f"The resistance too much sits on the {bad[0].name} side."


def _notes(feed: _Side, back: _Side, load: float, share: float) -> Iterator[Note | str]:
    if load < _SMALL_LOAD:
        yield (
            "With so little current a bad joint hardly shows: measure with the full load running."
        )
    if share > _GREATEST_SHARE:
        yield "Even in good order this line drops more than 10 %: it is too thin."
    elif share > _CRITICAL_SHARE:
        yield (
            "In good order this line drops more than the 3 % that boat builders allow a "
            "critical load."
        )
    heat = max((side.excess() or 0.0) * load for side in (feed, back))
    if heat > _HOT_JOINT:
        yield Note(
            f"{WATTS.written(heat)} in one bad joint melts a connector: touching "
            "it burns. Switch off and let it cool before you open it.",
            signal="caution",
        )


def _side_results(side: str) -> tuple[Result, ...]:
    return (
        verdict(f"{side}_verdict", f"Drop of the {side}", VOLTS),
        result(f"{side}_excess", f"Resistance too much in the {side}", MILLIOHMS, 3),
        result(f"{side}_heat", f"Heat of it in the {side}", WATTS, 3),
    )


RESULTS = (
    text("finding", "Finding"),
    result("feed_expected", "Feed should drop", VOLTS, 3),
    result("return_expected", "Return should drop", VOLTS, 3),
    result("total_expected", "Both together", VOLTS, 3),
    result("total_share", "Share of the supply", PER_CENT, 2),
    result("load_voltage", "Left for the load", VOLTS),
    *_side_results("feed"),
    *_side_results("return"),
)

CALCULATOR = Calculator(
    **taking(LoadLine, voltage_drop),
    title="Voltage drop of feed and return",
    summary="What a line should drop under load, and what a measured drop says: how much "
    "resistance is too much, on which side, and how hot it gets.",
    job="Electrical",
    words=phrases("bad ground, ground side, corroded connector, millivolt, wire size, ohm"),
    results=RESULTS,
    meaning="A line that tests good with an ohmmeter can still starve a load: a few milliohms show "
    "only when the current flows. Measure along each side while the load runs. What the copper "
    "and sound contacts explain is not a fault; the rest is one bad joint more often than not, "
    "and it is warm.",
    leaves_out="The limits of 0.5 V and 0.1 V are common practice; a maker's figure goes first. A "
    "body or engine block used as return is taken as a conductor of the size that you give. Drop "
    "in the battery and its posts is not part of the line.",
    sources=published(
        "IEC 60028, ASTM B258 (annealed copper, wire gauges)",
        "ABYC E-11 (3 % for critical loads, 10 % for others)",
    )
    + practice("Feed 0.2 to 0.5 V, ground 0.1 V under load"),
    hands_over=hand_over(
        "fuse", "Fuse for this line", "load supply conductor=feed_conductor length=feed_length"
    ),
)
