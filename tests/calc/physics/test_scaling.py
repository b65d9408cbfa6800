"""Scan tool values against SAE J1979."""

import math

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from baycalc.physics.scaling import ITEMS, TEST_SCALINGS, Scaling, ScalingError

PARTS = [(name, part) for name, item in ITEMS.items() for part in item.parts]


def read(name: str, data: list[int], part: int = 0) -> float:
    found = ITEMS[name].parts[part]
    return found.scaling.read(data[found.start : found.start + found.size])


# SAE J1979, published: trim (A - 128)/1.28 %, coolant A - 40 °C, engine speed (256 A + B)/4,
# air flow (256 A + B)/100 g/s, narrow-band A/200 V, lambda (256 A + B) x 2/65536.
@pytest.mark.parametrize(
    ("name", "data", "figure"),
    [
        ("trim", [0x80], 0.0),
        ("trim", [0x00], -1.0),
        ("trim", [0xFF], 0.9921875),
        ("temperature", [0x28], 273.15),
        ("temperature", [0x7B], 273.15 + 83),
        ("engine_speed", [0x0B, 0xB8], 750 / 60),
        ("engine_speed", [0xFF, 0xFF], 16383.75 / 60),
        ("air_flow", [0x01, 0x2C], 0.003),
        ("narrow_band", [0x5A, 0xFF], 0.45),
        ("wide_band_voltage", [0x80, 0x00, 0, 0], 1.0),
        ("commanded_lambda", [0xFF, 0xFF], 2 * 65535 / 65536),
    ],
)
def test_published_formulas(name: str, data: list[int], figure: float) -> None:
    assert read(name, data) == pytest.approx(figure)


# SAE J1979, from memory.
@pytest.mark.parametrize(
    ("name", "data", "part", "figure"),
    [
        ("share", [0xFF], 0, 1.0),
        ("vehicle_speed", [0x3C], 0, 60 / 3.6),
        ("timing", [0x80], 0, 0.0),
        ("timing", [0x94], 0, math.radians(10)),
        ("pressure", [0x65], 0, 101000.0),
        ("vapour_pressure", [0xFC, 0x18], 0, -250.0),
        ("vapour_pressure", [0x80, 0x00], 0, -8192.0),
        ("wide_band_voltage", [0, 0, 0x80, 0x00], 1, 4.0),
        ("wide_band_current", [0, 0, 0x80, 0x00], 1, 0.0),
        ("wide_band_current", [0, 0, 0xFF, 0xFF], 1, (65535 / 256 - 128) / 1000),
        ("catalyst_temperature", [0x11, 0x94], 0, 273.15 + 410),
        ("module_voltage", [0x37, 0x0A], 0, 14.09),
        ("narrow_band", [0, 0x80], 1, 0.0),
    ],
)
def test_formulas_from_memory(name: str, data: list[int], part: int, figure: float) -> None:
    assert read(name, data, part) == pytest.approx(figure, abs=1e-12)


def test_numbers_are_written_short() -> None:
    assert ITEMS["trim"].written_numbers() == "06 to 09"
    assert ITEMS["temperature"].written_numbers() == "05, 0F"
    assert ITEMS["share"].written_numbers() == "04, 11, 2C, 2E, 2F"
    assert ITEMS["air_flow"].written_numbers() == "10"


# SAE J1979, unit-and-scaling ids, from memory.
@pytest.mark.parametrize(
    ("number", "raw", "figure"),
    [
        (0x01, 0xFFFF, 65535.0),
        (0x0A, 0xFFFF, 7.99988),
        (0x0B, 0x0190, 0.4),
        (0x10, 0xFFFF, 65.535),
        (0x16, 0x0000, 233.15),
        (0x16, 0x0190, 273.15),
        (0x1E, 0x8000, 1.0),
        (0x8B, 0xFF38, -0.2),
        (0x84, 0x8000, -32.768),
        (0x85, 0x8000, -1.0),
        (0xAF, 0xD8F0, -1.0),
        (0xA9, 0xFFFC, -1.0),
    ],
)
def test_unit_and_scaling_ids(number: int, raw: int, figure: float) -> None:
    data = list(raw.to_bytes(2, "big"))
    assert TEST_SCALINGS[number].scaling.read(data) == pytest.approx(figure, rel=1e-5)


# SAE J1979, the step of each unit-and-scaling id, from memory; pint turns it into SI.
STEPS = {
    0x01: "1", 0x02: "0.1", 0x03: "0.01", 0x04: "0.001", 0x05: "3.05e-5", 0x06: "3.05e-4",
    0x07: "0.25 turn/min", 0x08: "0.01 km/h", 0x09: "1 km/h", 0x0A: "0.122 mV", 0x0B: "1 mV",
    0x0C: "10 mV", 0x0D: "0.00390625 mA", 0x0E: "1 mA", 0x0F: "10 mA", 0x10: "1 ms",
    0x11: "100 ms", 0x12: "1 s", 0x13: "1 mohm", 0x14: "1 ohm", 0x15: "1 kohm",
    0x16: "0.1 delta_degC", 0x17: "0.01 kPa", 0x18: "0.0117 kPa", 0x19: "0.079 kPa",
    0x1A: "1 kPa", 0x1B: "10 kPa", 0x1C: "0.01 degree", 0x1D: "0.5 degree", 0x1E: "3.05e-5",
    0x21: "1 mHz", 0x22: "1 Hz", 0x23: "1 kHz", 0x24: "1", 0x25: "1 km", 0x27: "0.01 g/s",
    0x28: "1 g/s", 0x29: "0.25 Pa/s", 0x2F: "0.01 percent", 0x34: "1 min", 0x35: "10 ms",
}  # fmt: skip
SIGNED = (
    *(0x81, 0x82, 0x83, 0x84, 0x85, 0x86, 0x8A, 0x8B, 0x8C, 0x8D, 0x8E, 0x90),
    *(0x9C, 0x9D, 0xA8, 0xA9, 0xAF),
)


PINT = pint.UnitRegistry()


def test_the_table_has_all_ids() -> None:
    assert set(TEST_SCALINGS) == {*STEPS, *SIGNED}


@pytest.mark.parametrize("number", TEST_SCALINGS)
def test_steps_of_all_ids(number: int) -> None:
    scaling = TEST_SCALINGS[number].scaling
    step = PINT.Quantity(STEPS[number if number < 0x80 else number - 0x80])
    turns = step.units == PINT.Unit("turn/min")
    si = step.magnitude / 60 if turns else step.to_base_units().magnitude
    assert scaling.read([0x00, 0x01]) - scaling.read([0x00, 0x00]) == pytest.approx(si, rel=1e-3)


def test_ids_from_80_hex_are_signed() -> None:
    assert all(row.scaling.signed is (number >= 0x80) for number, row in TEST_SCALINGS.items())


def test_beyond_the_bytes() -> None:
    with pytest.raises(ScalingError) as caught:
        Scaling(factor=1.0, offset=233.15).write(500.0, 1)
    assert (caught.value.low, caught.value.high) == (233.15, 488.15)


@given(st.sampled_from(PARTS), st.data())
def test_bytes_there_and_back(entry: tuple[str, object], data: st.DataObject) -> None:
    _, part = entry
    raw = data.draw(st.lists(st.integers(0, 255), min_size=part.size, max_size=part.size))
    assert part.scaling.write(part.scaling.read(raw), part.size) == raw


@given(st.sampled_from(PARTS), st.floats(0, 1))
def test_figures_there_and_back_to_half_a_step(entry: tuple[str, object], share: float) -> None:
    _, part = entry
    most = (1 << 8 * part.size) - 1
    low = part.scaling.read([0x80, 0] if part.scaling.signed else [0] * part.size)
    figure = low + share * most * part.scaling.factor
    back = part.scaling.read(part.scaling.write(figure, part.size))
    assert abs(back - figure) <= part.scaling.factor * (0.5 + 1e-6)
