"""On-board diagnostics: bytes as a scan tool shows them, and the status of the monitors."""

import re
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

_ANSWER = 0x40
_STATUS_SERVICE = 0x01
_STATUS_ITEM = 0x01
_LAMP = 0x80
_COMPRESSION = 0x08

NOT_SUPPORTED = "not supported"
COMPLETE = "complete"
INCOMPLETE = "not complete"
STATES = (COMPLETE, INCOMPLETE, NOT_SUPPORTED)
"""What a monitor can be."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Monitor:
    """One monitor: its name, the byte (B or C) and bit that say it is there, and what runs it."""

    name: str
    byte: str
    bit: int
    runs: str


CONTINUOUS = {
    "misfire": Monitor(name="misfire", byte="B", bit=0, runs="all driving"),
    "fuel_system": Monitor(name="fuel system", byte="B", bit=1, runs="all driving in closed loop"),
    "components": Monitor(name="components", byte="B", bit=2, runs="all driving"),
}
"""Monitors of both kinds of engine that run all the time (SAE J1979)."""

SPARK = CONTINUOUS | {
    "catalyst": Monitor(
        name="catalyst", byte="C", bit=0, runs="ten minutes and more of steady warm cruising"
    ),
    "heated_catalyst": Monitor(
        name="heated catalyst", byte="C", bit=1, runs="a cold start and idling"
    ),
    "evaporative": Monitor(
        name="evaporative system",
        byte="C",
        bit=2,
        runs="a night's rest, then a cold start with the tank between a quarter and 85 % full",
    ),
    "secondary_air": Monitor(
        name="secondary air", byte="C", bit=3, runs="a cold start, then idling until warm"
    ),
    "refrigerant": Monitor(
        name="A/C refrigerant", byte="C", bit=4, runs="driving with the air conditioner on"
    ),
    "oxygen_sensor": Monitor(
        name="oxygen sensor",
        byte="C",
        bit=5,
        runs="steady warm cruising and some coasting with the throttle closed",
    ),
    "oxygen_sensor_heater": Monitor(
        name="oxygen sensor heater", byte="C", bit=6, runs="a cold start and some minutes of idling"
    ),
    "egr": Monitor(
        name="EGR", byte="C", bit=7, runs="warm cruising, then coasting with the throttle closed"
    ),
}
"""Monitors of an engine with spark ignition (SAE J1979); what runs them is common practice."""

COMPRESSION = CONTINUOUS | {
    "nmhc_catalyst": Monitor(
        name="NMHC catalyst", byte="C", bit=0, runs="a long warm drive with a regeneration"
    ),
    "nox_aftertreatment": Monitor(
        name="NOx aftertreatment", byte="C", bit=1, runs="steady warm cruising"
    ),
    "boost_pressure": Monitor(
        name="boost pressure", byte="C", bit=3, runs="some strong accelerations when warm"
    ),
    "exhaust_sensor": Monitor(
        name="exhaust gas sensor", byte="C", bit=5, runs="warm cruising and coasting"
    ),
    "particle_filter": Monitor(
        name="particle filter", byte="C", bit=6, runs="a long warm drive with a regeneration"
    ),
    "egr_vvt": Monitor(
        name="EGR and valve timing", byte="C", bit=7, runs="warm cruising, then coasting"
    ),
}
"""Monitors of an engine with compression ignition (SAE J1979)."""

IGNITIONS: dict[str, Mapping[str, Monitor]] = {"spark": SPARK, "compression": COMPRESSION}
"""Monitors by kind of ignition."""


class BytesError(ValueError):
    """A text does not hold the bytes that were expected."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Status:
    """The status since the codes were cleared: lamp, number of codes, monitors by id."""

    lamp: bool
    codes: int
    ignition: str
    monitors: Mapping[str, str]


def read_bytes(text: str) -> list[int]:
    """Read bytes in hex, with or without spaces, ``0x``, ``$``, and the address in front.

    Parameters
    ----------
    text : str
        For example ``82 07 6D 08``, ``0x41 0x01``, ``7E8 06 41 01 82 07 6D 08``

    Returns
    -------
    list
        Bytes, 0 to 255 [-]

    Raises
    ------
    BytesError
        When something else than hex digits stands there.
    """
    words = [re.sub(r"(?i)^(0x|\$)", "", word) for word in re.split(r"[\s,;:.-]+", text.strip())]
    words = [word for word in words if word]
    if len(words) > 1 and len(words[0]) in (3, 8):
        words = words[1:]
    for word in words:
        if not re.fullmatch(r"(?i)[0-9a-f]+", word):
            raise BytesError(f"“{word[:12]}” is not hex: expected digits 0 to 9 and A to F")
        if len(word) > 1 and len(word) % 2:
            raise BytesError(f"“{word[:12]}” has an odd number of digits: two make a byte")
    return [byte for word in words for byte in bytes.fromhex(word.zfill(2))]


def data_bytes(text: str, service: int, count: int, items: Collection[int] = ()) -> list[int]:
    """Read the data of one answer, with or without the service and the item in front.

    Parameters
    ----------
    text : str
        Bytes in hex
    service : int
        Service that was asked, such as 1; its answer starts with 40 hex more [-]
    count : int
        How many data bytes there must be [-]
    items : Collection
        Items that the answer may be for; empty where any will do [-]

    Returns
    -------
    list
        The data bytes, without anything in front or behind [-]

    Raises
    ------
    BytesError
        When there are too few or too many bytes, or they answer another item.
    """
    found = read_bytes(text)
    start = 0 if len(found) == count else _after_header(found, service)
    if start and items and found[start - 1] not in items:
        raise BytesError(f"these bytes answer item {found[start - 1]:02X}, not this one")
    data = found[start : start + count]
    if len(data) < count or (start == 0 and len(found) > count):
        raise BytesError(f"expected {_many(count)} in hex, got {len(found) - start}")
    return data


def _after_header(found: Sequence[int], service: int) -> int:
    for place, byte in enumerate(found[:-1]):
        if byte == _ANSWER + service:
            return place + 2
    return 0


def _many(count: int) -> str:
    return "1 byte" if count == 1 else f"{count} bytes"


def write_bytes(data: Sequence[int]) -> str:
    """Write bytes in hex, two digits each, with spaces."""
    return " ".join(f"{byte:02X}" for byte in data)


def read_status(text: str) -> Status:
    """Read the four data bytes of service 01, item 01.

    Parameters
    ----------
    text : str
        Bytes in hex, with or without ``41 01`` in front

    Returns
    -------
    Status
        Lamp, number of codes, monitors

    Raises
    ------
    BytesError
        When these are not four bytes.

    References
    ----------
    SAE J1979 / ISO 15031-5, service 01, PID 01.
    """
    a, b, c, d = data_bytes(text, _STATUS_SERVICE, 4, (_STATUS_ITEM,))
    ignition = "compression" if b & _COMPRESSION else "spark"
    there = {"B": b, "C": c}
    open_yet = {"B": b >> 4, "C": d}
    return Status(
        lamp=bool(a & _LAMP),
        codes=a & ~_LAMP,
        ignition=ignition,
        monitors={
            name: _state(there[monitor.byte], open_yet[monitor.byte], monitor.bit)
            for name, monitor in IGNITIONS[ignition].items()
        },
    )


def _state(there: int, open_yet: int, bit: int) -> str:
    if not there >> bit & 1:
        return NOT_SUPPORTED
    return INCOMPLETE if open_yet >> bit & 1 else COMPLETE


def write_status(status: Status) -> str:
    """Write a status as the four data bytes of service 01, item 01, in hex."""
    there = {"B": 0, "C": 0}
    open_yet = {"B": 0, "C": 0}
    for name, monitor in IGNITIONS[status.ignition].items():
        state = status.monitors[name]
        there[monitor.byte] |= (state != NOT_SUPPORTED) << monitor.bit
        open_yet[monitor.byte] |= (state == INCOMPLETE) << monitor.bit
    a = status.codes | (_LAMP if status.lamp else 0)
    b = there["B"] | open_yet["B"] << 4 | (_COMPRESSION if status.ignition == "compression" else 0)
    return write_bytes([a, b, there["C"], open_yet["C"]])


def allowed_incomplete(model_year: int) -> int:
    """Return how many monitors may be incomplete at an inspection by model year.

    Parameters
    ----------
    model_year : int
        Model year, 1996 or later [-]

    Returns
    -------
    int
        2 up to 2000, 1 from 2001 [-]

    References
    ----------
    EPA420-R-01-015 (June 2001): guidance, which a program may follow or not.
    """
    return 2 if model_year <= 2000 else 1
