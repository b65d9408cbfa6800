"""Scan tool values: bytes of service 01 into figures and back, and the scalings of service 06."""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from baycalc.physics.constants import ICE_POINT

_DEGREE = math.pi / 180
_NOT_USED = 0xFF


class ScalingError(ValueError):
    """A figure that an item cannot show.

    Parameters
    ----------
    low : float
        Least figure that it can show [SI]
    high : float
        Greatest figure that it can show [SI]
    """

    def __init__(self, low: float, high: float) -> None:
        super().__init__(f"{low} to {high}")
        self.low = low
        self.high = high


@dataclass(frozen=True, slots=True, kw_only=True)
class Scaling:
    """How a number of bytes stands for a figure: ``figure = raw * factor + offset``.

    Parameters
    ----------
    factor : float
        Figure for one step of the number [SI]
    offset : float
        Figure for the number 0 [SI]
    signed : bool
        Whether the highest bit is a sign
    """

    factor: float
    offset: float = 0.0
    signed: bool = False

    def read(self, data: Sequence[int]) -> float:
        """Return the figure that bytes stand for.

        Parameters
        ----------
        data : Sequence
            Bytes, the highest first [-]

        Returns
        -------
        float
            Figure [SI]
        """
        raw = int.from_bytes(bytes(data), "big", signed=self.signed)
        return raw * self.factor + self.offset

    def write(self, figure: float, size: int) -> list[int]:
        """Return the bytes that come nearest to a figure.

        Parameters
        ----------
        figure : float
            Figure [SI]
        size : int
            Number of bytes [-]

        Returns
        -------
        list
            Bytes, the highest first [-]

        Raises
        ------
        ScalingError
            When the figure is more than half a step beyond what the bytes can show.
        """
        raw = round((figure - self.offset) / self.factor)
        least = -(1 << 8 * size - 1) if self.signed else 0
        most = (1 << 8 * size - self.signed) - 1
        if not least <= raw <= most:
            raise ScalingError(least * self.factor + self.offset, most * self.factor + self.offset)
        return list(raw.to_bytes(size, "big", signed=self.signed))


@dataclass(frozen=True, slots=True, kw_only=True)
class ItemPart:
    """One figure inside an item: its id, its bytes, and what fills them when it is not known."""

    id: str
    kind: str
    start: int
    size: int
    scaling: Scaling
    unknown: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """One item of service 01.

    Parameters
    ----------
    name : str
        What it is
    numbers : tuple
        Its numbers in service 01 [-]
    size : int
        Bytes that it has [-]
    parts : tuple
        Figures in them
    formula : str
        How the figures come from the bytes, in words
    example : str
        Bytes that a tool might show, in hex
    """

    name: str
    numbers: tuple[int, ...]
    size: int
    parts: tuple[ItemPart, ...]
    formula: str
    example: str

    def written_numbers(self) -> str:
        """Return the numbers in hex, a row of them shortened."""
        first, last = self.numbers[0], self.numbers[-1]
        if len(self.numbers) > 2 and last - first == len(self.numbers) - 1:
            return f"{first:02X} to {last:02X}"
        return ", ".join(f"{number:02X}" for number in self.numbers)


def _item(name: str, numbers: Iterable[int], formula: str, example: str, *parts: ItemPart) -> Item:
    size = max((part.start + part.size for part in parts), default=1)
    return Item(
        name=name,
        numbers=tuple(numbers),
        size=size,
        parts=parts,
        formula=formula,
        example=example,
    )


def _part(
    id: str,
    kind: str,
    start: int,
    size: int,
    factor: float,
    offset: float = 0.0,
    signed: bool = False,
    unknown: int | None = None,
) -> ItemPart:
    scaling = Scaling(factor=factor, offset=offset, signed=signed)
    return ItemPart(id=id, kind=kind, start=start, size=size, scaling=scaling, unknown=unknown)


_LAMBDA = _part("lambda_value", "ratio", 0, 2, 2 / 65536)
_CELSIUS = _part("temperature", "temperature", 0, 1, 1.0, ICE_POINT - 40)

ITEMS: Mapping[str, Item] = {
    "trim": _item(
        "fuel trim, short or long",
        range(0x06, 0x0A),
        "(A − 128)/1.28 %",
        "8A",
        _part("trim", "ratio", 0, 1, 1 / 128, -1.0),
    ),
    "temperature": _item("coolant or intake air", (0x05, 0x0F), "A − 40 °C", "7B", _CELSIUS),
    "share": _item(
        "load, throttle, EGR, purge, fuel level",
        (0x04, 0x11, 0x2C, 0x2E, 0x2F),
        "A/2.55 %",
        "80",
        _part("share", "ratio", 0, 1, 1 / 255),
    ),
    "engine_speed": _item(
        "engine speed",
        (0x0C,),
        "(256 A + B)/4 rpm",
        "0B B8",
        _part("engine_speed", "rotation", 0, 2, 0.25 / 60),
    ),
    "vehicle_speed": _item(
        "vehicle speed", (0x0D,), "A km/h", "3C", _part("vehicle_speed", "speed", 0, 1, 1 / 3.6)
    ),
    "timing": _item(
        "ignition timing before top dead center",
        (0x0E,),
        "A/2 − 64 °",
        "94",
        _part("timing", "angle", 0, 1, _DEGREE / 2, -64 * _DEGREE),
    ),
    "air_flow": _item(
        "air flow",
        (0x10,),
        "(256 A + B)/100 g/s",
        "01 2C",
        _part("air_flow", "mass flow", 0, 2, 1e-5),
    ),
    "pressure": _item(
        "manifold pressure or barometer",
        (0x0B, 0x33),
        "A kPa absolute",
        "1E",
        _part("pressure", "pressure", 0, 1, 1000.0),
    ),
    "vapour_pressure": _item(
        "evaporative system vapor pressure",
        (0x32,),
        "(256 A + B)/4 Pa, two's complement",
        "FC 18",
        _part("vapour_pressure", "pressure", 0, 2, 0.25, signed=True),
    ),
    "narrow_band": _item(
        "narrow-band oxygen sensor",
        range(0x14, 0x1C),
        "A/200 V; trim (B − 128)/1.28 %, FF where not used",
        "9B FF",
        _part("voltage", "voltage", 0, 1, 0.005),
        _part("trim", "ratio", 1, 1, 1 / 128, -1.0, unknown=_NOT_USED),
    ),
    "wide_band_voltage": _item(
        "wide-band oxygen sensor, lambda and voltage",
        range(0x24, 0x2C),
        "lambda (256 A + B) × 2/65536; (256 C + D) × 8/65536 V",
        "7F FF 40 00",
        _LAMBDA,
        _part("voltage", "voltage", 2, 2, 8 / 65536),
    ),
    "wide_band_current": _item(
        "wide-band oxygen sensor, lambda and current",
        range(0x34, 0x3C),
        "lambda (256 A + B) × 2/65536; (256 C + D)/256 − 128 mA",
        "84 00 80 80",
        _LAMBDA,
        _part("current", "current", 2, 2, 1e-3 / 256, -0.128),
    ),
    "catalyst_temperature": _item(
        "catalyst temperature",
        range(0x3C, 0x40),
        "(256 A + B)/10 − 40 °C",
        "11 94",
        _part("temperature", "temperature", 0, 2, 0.1, ICE_POINT - 40),
    ),
    "module_voltage": _item(
        "control module voltage",
        (0x42,),
        "(256 A + B)/1000 V",
        "37 0A",
        _part("voltage", "voltage", 0, 2, 0.001),
    ),
    "commanded_lambda": _item(
        "commanded lambda", (0x44,), "(256 A + B) × 2/65536", "80 00", _LAMBDA
    ),
    "secondary_air": _item("secondary air status", (0x12,), "one bit of A for each state", "02"),
}
"""Items of service 01 (SAE J1979); fuel trim, coolant, engine speed, air flow, narrow-band and
lambda published, the others from memory."""

SECONDARY_AIR = {
    0x01: "air goes in upstream of the first catalyst",
    0x02: "air goes in downstream of the first catalyst's inlet",
    0x04: "air goes to the atmosphere, or is off",
    0x08: "the pump is commanded on for diagnosis",
}
"""Bits of the secondary air status, service 01, item 12 (SAE J1979, from memory)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitAndScaling:
    """A unit-and-scaling id of service 06: the scaling, the kind of quantity, the units."""

    scaling: Scaling
    kind: str
    units: tuple[str, ...]
    step: str


def _test(
    kind: str, units: tuple[str, ...], step: str, factor: float, offset: float = 0.0
) -> UnitAndScaling:
    scaling = Scaling(factor=factor, offset=offset)
    return UnitAndScaling(scaling=scaling, kind=kind, units=units, step=step)


_NUMBER = ("1",)
_PRESSURES = ("inHg", "kPa")
_UNSIGNED = {
    0x01: _test("ratio", _NUMBER, "1", 1.0),
    0x02: _test("ratio", _NUMBER, "0.1", 0.1),
    0x03: _test("ratio", _NUMBER, "0.01", 0.01),
    0x04: _test("ratio", _NUMBER, "0.001", 0.001),
    0x05: _test("ratio", _NUMBER, "0.0000305", 2 / 65536),
    0x06: _test("ratio", _NUMBER, "0.000305", 20 / 65536),
    0x07: _test("rotation", ("rpm",), "0.25 rpm", 0.25 / 60),
    0x08: _test("speed", ("mph", "km/h"), "0.01 km/h", 0.01 / 3.6),
    0x09: _test("speed", ("mph", "km/h"), "1 km/h", 1 / 3.6),
    0x0A: _test("voltage", ("V",), "0.122 mV", 8 / 65536),
    0x0B: _test("voltage", ("V",), "0.001 V", 0.001),
    0x0C: _test("voltage", ("V",), "0.01 V", 0.01),
    0x0D: _test("current", ("mA",), "0.00390625 mA", 1e-3 / 256),
    0x0E: _test("current", ("A",), "0.001 A", 0.001),
    0x0F: _test("current", ("A",), "0.01 A", 0.01),
    0x10: _test("time", ("s",), "1 ms", 0.001),
    0x11: _test("time", ("s",), "100 ms", 0.1),
    0x12: _test("time", ("s",), "1 s", 1.0),
    0x13: _test("resistance", ("ohm",), "1 mΩ", 0.001),
    0x14: _test("resistance", ("ohm",), "1 Ω", 1.0),
    0x15: _test("resistance", ("kohm",), "1 kΩ", 1000.0),
    0x16: _test("temperature", ("°F", "°C"), "0.1 °C, −40 °C added", 0.1, ICE_POINT - 40),
    0x17: _test("pressure", _PRESSURES, "0.01 kPa gauge", 10.0),
    0x18: _test("pressure", _PRESSURES, "0.0117 kPa", 11.7),
    0x19: _test("pressure", _PRESSURES, "0.079 kPa", 79.0),
    0x1A: _test("pressure", _PRESSURES, "1 kPa", 1000.0),
    0x1B: _test("pressure", ("psi", "kPa"), "10 kPa", 10000.0),
    0x1C: _test("angle", ("°",), "0.01 °", 0.01 * _DEGREE),
    0x1D: _test("angle", ("°",), "0.5 °", 0.5 * _DEGREE),
    0x1E: _test("ratio", _NUMBER, "0.0000305 of lambda", 2 / 65536),
    0x21: _test("frequency", ("Hz",), "1 mHz", 0.001),
    0x22: _test("frequency", ("Hz",), "1 Hz", 1.0),
    0x23: _test("frequency", ("kHz",), "1 kHz", 1000.0),
    0x24: _test("ratio", _NUMBER, "1 count", 1.0),
    0x25: _test("distance", ("mi", "km"), "1 km", 1000.0),
    0x27: _test("mass flow", ("lb/min", "g/s"), "0.01 g/s", 1e-5),
    0x28: _test("mass flow", ("lb/min", "g/s"), "1 g/s", 1e-3),
    0x29: _test("pressure rate", ("inH2O/min", "Pa/s"), "0.25 Pa/s", 0.25),
    0x2F: _test("ratio", ("%",), "0.01 %", 1e-4),
    0x34: _test("time", ("min",), "1 min", 60.0),
    0x35: _test("time", ("s",), "10 ms", 0.01),
}
_SIGNED = {
    0x81: 0x01,
    0x82: 0x02,
    0x83: 0x03,
    0x84: 0x04,
    0x85: 0x05,
    0x86: 0x06,
    0x8A: 0x0A,
    0x8B: 0x0B,
    0x8C: 0x0C,
    0x8D: 0x0D,
    0x8E: 0x0E,
    0x90: 0x10,
    0x9C: 0x1C,
    0x9D: 0x1D,
    0xA8: 0x28,
    0xA9: 0x29,
    0xAF: 0x2F,
}


def _with_sign(row: UnitAndScaling) -> UnitAndScaling:
    scaling = Scaling(factor=row.scaling.factor, offset=row.scaling.offset, signed=True)
    return UnitAndScaling(scaling=scaling, kind=row.kind, units=row.units, step=row.step)


TEST_SCALINGS: Mapping[int, UnitAndScaling] = _UNSIGNED | {
    signed: _with_sign(_UNSIGNED[plain]) for signed, plain in _SIGNED.items()
}
"""Unit-and-scaling ids of service 06 by number (SAE J1979, all from memory)."""
