"""Lamp, codes and monitors from the status bytes or from ticks: ready for an inspection or not."""

from collections.abc import Mapping

from baycalc.forms.declare import (
    Answer,
    Calculator,
    Choice,
    Flag,
    Input,
    Note,
    Option,
    Quantity,
    Refusal,
    Result,
    Shown,
    Source,
    Text,
    Value,
)
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
from baycalc.text import capital, sentence

_ALL: Mapping[str, Monitor] = {**SPARK, **COMPRESSION}
_MOST_CODES = 127
_USUALLY_NOT = ("heated_catalyst", "refrigerant")


def monitor_status(
    entry: str,
    status_bytes: str,
    lamp_lit: bool,
    code_count: float,
    misfire: str,
    fuel_system: str,
    components: str,
    catalyst: str,
    heated_catalyst: str,
    evaporative: str,
    secondary_air: str,
    refrigerant: str,
    oxygen_sensor: str,
    oxygen_sensor_heater: str,
    egr: str,
    nmhc_catalyst: str,
    nox_aftertreatment: str,
    boost_pressure: str,
    exhaust_sensor: str,
    particle_filter: str,
    egr_vvt: str,
    model_year: float,
    programme_allows: float | None,
) -> Answer:
    """Read the status of the monitors and say what an inspection makes of it.

    Parameters
    ----------
    entry : str
        ``bytes``, or ticks for an engine with ``spark`` or ``compression`` ignition [-]
    status_bytes : str
        The four bytes of service 01, item 01, in hex [-]
    lamp_lit : bool
        The lamp is commanded on, used with ticks [-]
    code_count : float
        Number of codes, used with ticks [-]
    misfire : str
        State of the misfire monitor, used with ticks [-]
    fuel_system : str
        State of the fuel system monitor, used with ticks [-]
    components : str
        State of the components monitor, used with ticks [-]
    catalyst : str
        State of the catalyst monitor, used with ticks [-]
    heated_catalyst : str
        State of the heated catalyst monitor, used with ticks [-]
    evaporative : str
        State of the evaporative system monitor, used with ticks [-]
    secondary_air : str
        State of the secondary air monitor, used with ticks [-]
    refrigerant : str
        State of the A/C refrigerant monitor, used with ticks [-]
    oxygen_sensor : str
        State of the oxygen sensor monitor, used with ticks [-]
    oxygen_sensor_heater : str
        State of the oxygen sensor heater monitor, used with ticks [-]
    egr : str
        State of the EGR monitor, used with ticks [-]
    nmhc_catalyst : str
        State of the NMHC catalyst monitor, used with ticks [-]
    nox_aftertreatment : str
        State of the NOx aftertreatment monitor, used with ticks [-]
    boost_pressure : str
        State of the boost pressure monitor, used with ticks [-]
    exhaust_sensor : str
        State of the exhaust gas sensor monitor, used with ticks [-]
    particle_filter : str
        State of the particle filter monitor, used with ticks [-]
    egr_vvt : str
        State of the EGR and valve timing monitor, used with ticks [-]
    model_year : float
        Model year of the vehicle [-]
    programme_allows : float
        How many monitors the programme lets stay incomplete, or ``None`` [-]

    Returns
    -------
    Answer
        ``inspection``, ``ready``, ``lamp``, ``codes``, ``to_run``, the state of each monitor.

    Raises
    ------
    Refusal
        When the bytes cannot be read, or a count or year is not a whole number.
    """
    year = _whole("model_year", model_year)
    allowed = (
        allowed_incomplete(year)
        if programme_allows is None
        else _whole("programme_allows", programme_allows)
    )
    ticks = {
        "misfire": misfire,
        "fuel_system": fuel_system,
        "components": components,
        "catalyst": catalyst,
        "heated_catalyst": heated_catalyst,
        "evaporative": evaporative,
        "secondary_air": secondary_air,
        "refrigerant": refrigerant,
        "oxygen_sensor": oxygen_sensor,
        "oxygen_sensor_heater": oxygen_sensor_heater,
        "egr": egr,
        "nmhc_catalyst": nmhc_catalyst,
        "nox_aftertreatment": nox_aftertreatment,
        "boost_pressure": boost_pressure,
        "exhaust_sensor": exhaust_sensor,
        "particle_filter": particle_filter,
        "egr_vvt": egr_vvt,
    }
    status = _status(entry, status_bytes, lamp_lit, code_count, ticks)
    incomplete = [name for name, state in status.monitors.items() if state == INCOMPLETE]
    supported = [state for state in status.monitors.values() if state != NOT_SUPPORTED]
    ready = bool(supported) and len(incomplete) <= allowed
    values: dict[str, Value] = {
        "ready": ready,
        "inspection": _inspection(status, bool(supported), incomplete, allowed),
        "lamp": status.lamp,
        "codes": str(status.codes),
        "ignition": status.ignition,
        "incomplete": str(len(incomplete)),
        "allowed": str(allowed),
        "to_run": _to_run(incomplete),
        "bytes": write_status(status),
    }
    values |= {
        f"{name}_state": state for name, state in status.monitors.items() if state != NOT_SUPPORTED
    }
    return Answer(values=values, notes=_notes(status, incomplete))


def _whole(name: str, value: float) -> int:
    if value != round(value):
        raise Refusal({name: "Expected a whole number."})
    return round(value)


def _status(
    entry: str, status_bytes: str, lamp_lit: bool, code_count: float, ticks: Mapping[str, str]
) -> Status:
    if entry == "bytes":
        try:
            return read_status(status_bytes)
        except BytesError as problem:
            text = str(problem)
            raise Refusal({"status_bytes": sentence(text)}) from problem
    return Status(
        lamp=lamp_lit,
        codes=_whole("code_count", code_count),
        ignition=entry,
        monitors={name: ticks[name] for name in IGNITIONS[entry]},
    )


def _inspection(status: Status, supported: bool, incomplete: list[str], allowed: int) -> str:
    if not supported:
        return "Nothing can be said: no monitor is supported."
    few = len(incomplete) <= allowed
    if status.lamp:
        return (
            "It fails: the lamp is commanded on."
            if few
            else "It fails: the lamp is commanded on, and too many monitors are not complete."
        )
    if not few:
        many = "1 monitor is" if len(incomplete) == 1 else f"{len(incomplete)} monitors are"
        return f"It is turned away: {many} not complete, {allowed} may be."
    if status.codes:
        return "The monitors are ready, but codes are stored: find out why before the inspection."
    return "Ready: the lamp is off and enough monitors are complete."


def _to_run(incomplete: list[str]) -> str:
    return ", ".join(_ALL[name].name for name in incomplete) or "nothing"


def _notes(status: Status, incomplete: list[str]) -> tuple[Note, ...]:
    told = [
        Note(text=f"{capital(_ALL[name].name)}: {_ALL[name].runs}.")
        for name in incomplete
        if name not in CONTINUOUS
    ]
    there = [name for name in status.monitors if status.monitors[name] != NOT_SUPPORTED]
    stepped = [name for name in there if name not in CONTINUOUS]
    if stepped and all(name in incomplete for name in stepped):
        told.append(
            Note(
                text="Nothing has run yet: the codes were cleared, or the battery was off, not "
                "long ago."
            )
        )
    if not there:
        told.append(Note(text="Check the bytes, or ask another module of the vehicle."))
    told.append(
        Note(
            text="Programmes differ: how many monitors may be open, and which ones must not, is "
            "for the place where the vehicle is inspected. Clearing codes sets every monitor back."
        )
    )
    return tuple(told)


def _tick(name: str, monitor: Monitor) -> Choice:
    entries = tuple(ignition for ignition, there in IGNITIONS.items() if name in there)
    return Choice(
        id=name,
        label=capital(monitor.name),
        options=tuple(Option(value=state, label=state) for state in STATES),
        default=NOT_SUPPORTED if name in _USUALLY_NOT else COMPLETE,
        shown=Shown(choice="entry", values=entries),
    )


_TICKED = ("spark", "compression")
_INPUTS: tuple[Input, ...] = (
    Choice(
        id="entry",
        label="You have",
        options=(
            Option(value="bytes", label="the bytes of service 01, item 01"),
            Option(value="spark", label="a list of monitors, spark ignition"),
            Option(value="compression", label="a list of monitors, compression ignition"),
        ),
        default="bytes",
    ),
    Text(
        id="status_bytes",
        label="Bytes in hex",
        default="82 07 6D 08",
        help="Four bytes, with or without 41 01 in front.",
        longest=80,
        shown=Shown(choice="entry", values=("bytes",)),
    ),
    Flag(
        id="lamp_lit",
        label="Lamp commanded on",
        shown=Shown(choice="entry", values=_TICKED),
    ),
    Quantity(
        id="code_count",
        label="Number of codes",
        kind="ratio",
        units=("1",),
        default="0",
        low="0",
        high=str(_MOST_CODES),
        shown=Shown(choice="entry", values=_TICKED),
    ),
    *(_tick(name, monitor) for name, monitor in _ALL.items()),
    Quantity(
        id="model_year",
        label="Model year",
        kind="ratio",
        units=("1",),
        default="2008",
        low="1996",
        high="2100",
        help="Vehicles before 1996 have no such monitors.",
    ),
    Quantity(
        id="programme_allows",
        label="Your programme lets stay open",
        kind="ratio",
        units=("1",),
        default=None,
        low="0",
        high="11",
        help="Monitors not complete. Empty: the federal guidance, 2 up to 2000, 1 from 2001.",
    ),
)

CALCULATOR = Calculator(
    id="monitor_status",
    title="Monitor status and readiness",
    summary="Lamp, number of codes and each monitor from the status bytes or from ticks; whether "
    "the vehicle is ready for an inspection, and what is left to run.",
    job="Scan tool",
    words=("readiness", "inspection", "I/M", "drive cycle", "PID 01", "incomplete", "smog check"),
    inputs=_INPUTS,
    results=(
        Result(id="inspection", label="At an inspection", kind="text"),
        Result(id="ready", label="Enough monitors are complete", kind="flag"),
        Result(id="lamp", label="Lamp commanded on", kind="flag"),
        Result(id="codes", label="Codes stored", kind="text"),
        Result(id="incomplete", label="Monitors not complete", kind="text"),
        Result(id="allowed", label="Monitors that may be not complete", kind="text"),
        Result(id="to_run", label="Left to run", kind="text"),
        *(
            Result(id=f"{name}_state", label=capital(monitor.name), kind="text")
            for name, monitor in _ALL.items()
        ),
        Result(id="ignition", label="Ignition", kind="text"),
        Result(id="bytes", label="As bytes", kind="text"),
    ),
    compute=monitor_status,
    meaning="Each monitor is one test that the vehicle runs on itself when the conditions suit. "
    "Not complete does not mean bad: it has not run since the codes were cleared. After a repair, "
    "the monitor of that system going complete without a code is the proof.",
    leaves_out="What makes a monitor run differs by vehicle: its own conditions go first, the "
    "hints here are common practice. A code of one trip (pending) is not in these bytes. More "
    "than one module can answer; take each by itself.",
    sources=(
        Source(text="SAE J1979 / ISO 15031-5, service 01, PID 01 (bytes B, C, D)"),
        Source(text="The same, lamp and count in byte A", standing="memory"),
        Source(text="EPA420-R-01-015, June 2001 (monitors that may be open, guidance)"),
        Source(text="13 CCR 1968.2(e)(4.3.3) (no leak check above 85 % fill)"),
        Source(text="What runs a monitor", standing="practice"),
    ),
    examples=(
        {},
        {"status_bytes": "41 01 82 07 6D 08"},
        {"status_bytes": "00 07 E5 00", "model_year": "1999"},
        {"status_bytes": "00076504"},
        {"status_bytes": "0x00 0x07 0x65 0x05", "model_year": "1998"},
        {"status_bytes": "7E8 06 41 01 00 07 65 65 00"},
        {"status_bytes": "03 0F EB 02"},
        {"status_bytes": "00 07 65 05", "programme_allows": "0"},
        {"entry": "spark", "lamp_lit": "true", "code_count": "1", "secondary_air": "not complete"},
        {
            "entry": "spark",
            "evaporative": "not complete",
            "catalyst": "not complete",
            "model_year": "2000",
        },
        {"entry": "compression", "particle_filter": "not complete"},
        {"entry": "compression", "egr_vvt": "not supported", "code_count": "2"},
        {"status_bytes": "00 00 00 00"},
    ),
)
