"""Lamp, codes and monitors from the status bytes or from ticks: ready for an inspection or not."""

from collections.abc import Iterator, Mapping
from typing import Any

from baycalc.forms.declare import Answer, Calculator, Refusal, Value
from baycalc.forms.form import (
    YES_IS_GOOD,
    Group,
    choice,
    flag,
    form,
    from_memory,
    phrases,
    practice,
    published,
    quantity,
    taking,
    text,
    typed_text,
    yes_or_no,
)
from baycalc.forms.sources import FULLEST_TANK
from baycalc.measurement.decision import FAIL, PASS
from baycalc.physics.obd import (
    COMPLETE,
    COMPRESSION,
    CONTINUOUS,
    IGNITIONS,
    INCOMPLETE,
    NOT_SUPPORTED,
    SPARK,
    STATES,
    BytesError,
    Monitor,
    Status,
    allowed_incomplete,
    read_status,
    write_status,
)
from baycalc.quantities.kinds import NUMBER
from baycalc.text import capital, sentence

_ALL: Mapping[str, Monitor] = {**SPARK, **COMPRESSION}
_USUALLY_NOT = ("heated_catalyst", "refrigerant")


def _tick(name: str, monitor: Monitor) -> Any:
    entries = "|".join(ignition for ignition, there in IGNITIONS.items() if name in there)
    default = NOT_SUPPORTED if name in _USUALLY_NOT else COMPLETE
    states = {state: state for state in STATES}
    return choice(capital(monitor.name), states, default).says("", f"entry={entries}")


_TICKS: Any = Group(dict, {name: _tick(name, monitor) for name, monitor in _ALL.items()})


@form
class Readiness:
    """The status bytes, or the monitors as a list, and what the program allows."""

    entry: str = choice(
        "You have",
        {
            "bytes": "the bytes of service 01, item 01",
            "spark": "a list of monitors, spark ignition",
            "compression": "a list of monitors, compression ignition",
        },
    )
    status_bytes: str = typed_text("Bytes in hex", "82 07 6D 08", 80).says(
        "Four bytes, with or without 41 01 in front.", "entry=bytes"
    )
    lamp_lit: bool = flag("Lamp commanded on").says("", "entry=spark|compression")
    code_count: float = quantity("Number of codes", NUMBER, "0", "0 to 127").says(
        "", "entry=spark|compression"
    )
    ticks: Mapping[str, str] = _TICKS
    model_year: float = quantity("Model year", NUMBER, "2008", "1996 to 2100").says(
        "Vehicles before 1996 have no such monitors."
    )
    programme_allows: float | None = quantity(
        "Your program lets stay open", NUMBER, None, "0 to 11"
    ).says("Monitors not complete. Empty: the federal guidance, 2 up to 2000, 1 from 2001.")

    def status(self) -> Status:
        """Return the status that bytes or ticks say."""
        if self.entry == "bytes":
            try:
                return read_status(self.status_bytes)
            except BytesError as problem:
                raise Refusal({"status_bytes": sentence(str(problem))}) from problem
        return Status(
            lamp=self.lamp_lit,
            codes=_whole("code_count", self.code_count),
            ignition=self.entry,
            monitors={name: self.ticks[name] for name in IGNITIONS[self.entry]},
        )

    def allowed(self) -> int:
        """Return how many monitors may stay open [-]."""
        year = _whole("model_year", self.model_year)
        if self.programme_allows is None:
            return allowed_incomplete(year)
        return _whole("programme_allows", self.programme_allows)


def monitor_status(asked: Readiness) -> Answer:
    """Read the status of the monitors and say what an inspection makes of it.

    Raises
    ------
    Refusal
        When the bytes cannot be read, or a count or year is not a whole number.
    """
    allowed = asked.allowed()
    status = asked.status()
    incomplete = [name for name, state in status.monitors.items() if state == INCOMPLETE]
    there = {name: state for name, state in status.monitors.items() if state != NOT_SUPPORTED}
    values: dict[str, Value] = {
        "ready": bool(there) and len(incomplete) <= allowed,
        "inspection": _inspection(status, bool(there), len(incomplete), allowed),
        "lamp": status.lamp,
        "codes": str(status.codes),
        "ignition": status.ignition,
        "incomplete": str(len(incomplete)),
        "allowed": str(allowed),
        "to_run": ", ".join(_ALL[name].name for name in incomplete) or "nothing",
        "bytes": write_status(status),
    }
    values |= {f"{name}_state": state for name, state in there.items()}
    return Answer(values=values, notes=tuple(_notes(list(there), incomplete)))


def _whole(name: str, value: float) -> int:
    if value != round(value):
        raise Refusal({name: "Expected a whole number."})
    return round(value)


def _inspection(status: Status, supported: bool, incomplete: int, allowed: int) -> str:
    if not supported:
        return "Nothing can be said: no monitor is supported."
    few = incomplete <= allowed
    if status.lamp and few:
        return "It fails: the lamp is commanded on."
    if status.lamp:
        return "It fails: the lamp is commanded on, and too many monitors are not complete."
    if not few:
        many = "1 monitor is" if incomplete == 1 else f"{incomplete} monitors are"
        return f"It is turned away: {many} not complete, {allowed} may be."
    if status.codes:
        return "The monitors are ready, but codes are stored: find out why before the inspection."
    return "Ready: the lamp is off and enough monitors are complete."


def _notes(there: list[str], incomplete: list[str]) -> Iterator[str]:
    for name in incomplete:
        if name not in CONTINUOUS:
            yield f"{capital(_ALL[name].name)}: {_ALL[name].runs}."
    stepped = [name for name in there if name not in CONTINUOUS]
    if stepped and all(name in incomplete for name in stepped):
        yield "Nothing has run yet: the codes were cleared, or the battery was off, not long ago."
    if not there:
        yield "Check the bytes, or ask another module of the vehicle."
    yield (
        "Programs differ: how many monitors may be open, and which ones must not, is "
        "for the place where the vehicle is inspected. Clearing codes sets every monitor back."
    )


RESULTS = (
    text("inspection", "At an inspection"),
    yes_or_no("ready", "Enough monitors are complete").concludes(YES_IS_GOOD),
    yes_or_no("lamp", "Lamp commanded on").concludes({"yes": FAIL, "no": PASS}),
    text("codes", "Codes stored"),
    text("incomplete", "Monitors not complete"),
    text("allowed", "Monitors that may be not complete"),
    text("to_run", "Left to run"),
    *(text(f"{name}_state", capital(monitor.name)) for name, monitor in _ALL.items()),
    text("ignition", "Ignition"),
    text("bytes", "As bytes"),
)

CALCULATOR = Calculator(
    **taking(Readiness, monitor_status),
    title="Monitor status and readiness",
    summary="Lamp, number of codes and each monitor from the status bytes or from ticks; whether "
    "the vehicle is ready for an inspection, and what is left to run.",
    job="Scan tool",
    words=phrases("readiness, inspection, I/M, drive cycle, PID 01, incomplete, smog check"),
    results=RESULTS,
    meaning="Each monitor is one test that the vehicle runs on itself when the conditions suit. "
    "Not complete does not mean bad: it has not run since the codes were cleared. After a repair, "
    "the monitor of that system going complete without a code is the proof.",
    leaves_out="What makes a monitor run differs by vehicle: its own conditions go first, the "
    "hints here are common practice. A code of one trip (pending) is not in these bytes. More "
    "than one module can answer; take each by itself.",
    sources=published("SAE J1979 / ISO 15031-5, service 01, PID 01 (bytes B, C, D)")
    + from_memory("The same, lamp and count in byte A")
    + published("EPA420-R-01-015, June 2001 (monitors that may be open, guidance)")
    + FULLEST_TANK
    + practice("What runs a monitor"),
)
