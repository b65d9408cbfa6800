"""Bytes of the scan tool and the status of the monitors."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baycalc.physics.obd import (
    COMPLETE,
    COMPRESSION,
    IGNITIONS,
    INCOMPLETE,
    NOT_SUPPORTED,
    SPARK,
    BytesError,
    Status,
    allowed_incomplete,
    data_bytes,
    read_bytes,
    read_status,
    write_bytes,
    write_status,
)

BYTES = st.integers(0, 255)


@pytest.mark.parametrize(
    "text",
    ["82 07 6D 08", "82076d08", "0x82 0x07 0x6D 0x08", "$82,$07,$6D,$08", " 82:07:6d:08 ",
     "82 7 6D 8"],
)  # fmt: skip
def test_spellings_of_bytes(text: str) -> None:
    assert read_bytes(text) == [0x82, 0x07, 0x6D, 0x08]


@pytest.mark.parametrize(
    "text",
    ["82 07 6D 08", "41 01 82 07 6D 08", "410182076D08", "7E8 06 41 01 82 07 6D 08 00",
     "18DAF110 06 41 01 82 07 6D 08 AA", "06 41 01 82 07 6D 08"],
)  # fmt: skip
def test_header_is_taken_off(text: str) -> None:
    assert data_bytes(text, 1, 4, (1,)) == [0x82, 0x07, 0x6D, 0x08]


@pytest.mark.parametrize(
    ("text", "problem"),
    [
        ("82 07 6D", "expected 4 bytes in hex, got 3"),
        ("41 01 82 07", None),
        ("41 01 82 07 6D", "expected 4 bytes in hex, got 3"),
        ("41 0C 82 07 6D 08", "these bytes answer item 0C, not this one"),
        ("82 07 6D 08 00", "expected 4 bytes in hex, got 5"),
        ("", "expected 4 bytes in hex, got 0"),
        ("82 07 6D 0G", "“0G” is not hex: expected digits 0 to 9 and A to F"),
        ("82 07 6D 081", "“081” has an odd number of digits: two make a byte"),
    ],
)
def test_wrong_bytes(text: str, problem: str | None) -> None:
    if problem is None:
        assert data_bytes(text, 1, 4, (1,)) == [0x41, 0x01, 0x82, 0x07]
        return
    with pytest.raises(BytesError) as caught:
        data_bytes(text, 1, 4, (1,))
    assert str(caught.value) == problem


# SAE J1979, service 01, PID 01: byte C there, byte D not complete; bit 7 EGR, 6 oxygen sensor
# heater, 5 oxygen sensor, 4 A/C refrigerant, 3 secondary air, 2 evaporative, 1 heated catalyst,
# 0 catalyst. Byte A (lamp in bit 7, count below): from memory.
@pytest.mark.parametrize(
    ("bit", "name"),
    [(7, "egr"), (6, "oxygen_sensor_heater"), (5, "oxygen_sensor"), (4, "refrigerant"),
     (3, "secondary_air"), (2, "evaporative"), (1, "heated_catalyst"), (0, "catalyst")],
)  # fmt: skip
def test_bits_of_spark_ignition(bit: int, name: str) -> None:
    status = read_status(write_bytes([0, 0, 1 << bit, 1 << bit]))
    assert [key for key, state in status.monitors.items() if state == INCOMPLETE] == [name]
    status = read_status(write_bytes([0, 0, 1 << bit, 0]))
    assert [key for key, state in status.monitors.items() if state == COMPLETE] == [name]


# The same for compression ignition: bit 7 EGR or VVT, 6 particle filter, 5 exhaust gas sensor,
# 3 boost pressure, 1 NOx or SCR, 0 NMHC catalyst; 4 and 2 are reserved.
@pytest.mark.parametrize(
    ("bit", "name"),
    [(7, "egr_vvt"), (6, "particle_filter"), (5, "exhaust_sensor"), (3, "boost_pressure"),
     (1, "nox_aftertreatment"), (0, "nmhc_catalyst")],
)  # fmt: skip
def test_bits_of_compression_ignition(bit: int, name: str) -> None:
    status = read_status(write_bytes([0, 0x08, 1 << bit, 1 << bit]))
    assert status.ignition == "compression"
    assert [key for key, state in status.monitors.items() if state == INCOMPLETE] == [name]


@pytest.mark.parametrize(("bit", "name"), [(0, "misfire"), (1, "fuel_system"), (2, "components")])
def test_bits_of_what_runs_all_the_time(bit: int, name: str) -> None:
    for ignition in (0, 0x08):
        status = read_status(write_bytes([0, ignition | 0x11 << bit, 0, 0]))
        assert status.monitors[name] == INCOMPLETE
        assert list(status.monitors.values()).count(NOT_SUPPORTED) == len(status.monitors) - 1


def test_an_example_by_hand() -> None:
    # Computed by hand from the bits above: lamp, 2 codes, all complete but secondary air.
    status = read_status("82 07 6D 08")
    assert (status.lamp, status.codes, status.ignition) == (True, 2, "spark")
    assert [name for name, state in status.monitors.items() if state == INCOMPLETE] == [
        "secondary_air"
    ]
    assert [name for name, state in status.monitors.items() if state == NOT_SUPPORTED] == [
        "heated_catalyst", "refrigerant", "egr"
    ]  # fmt: skip


# EPA420-R-01-015: two for model years 1996 to 2000, one from 2001.
@pytest.mark.parametrize(("year", "allowed"), [(1996, 2), (2000, 2), (2001, 1), (2020, 1)])
def test_allowed_incomplete(year: int, allowed: int) -> None:
    assert allowed_incomplete(year) == allowed


def test_number_of_monitors() -> None:
    assert len(SPARK) == 11
    assert len(COMPRESSION) == 9


@st.composite
def statuses(draw: st.DrawFn) -> Status:
    ignition = draw(st.sampled_from(sorted(IGNITIONS)))
    states = st.sampled_from([COMPLETE, INCOMPLETE, NOT_SUPPORTED])
    return Status(
        lamp=draw(st.booleans()),
        codes=draw(st.integers(0, 127)),
        ignition=ignition,
        monitors={name: draw(states) for name in IGNITIONS[ignition]},
    )


@given(statuses())
def test_status_there_and_back(status: Status) -> None:
    assert read_status(write_status(status)) == status


@given(st.lists(BYTES, min_size=1, max_size=8))
def test_bytes_there_and_back(data: list[int]) -> None:
    assert read_bytes(write_bytes(data)) == data


@given(st.text(max_size=40))
def test_any_text_is_bytes_or_a_sentence(text: str) -> None:
    try:
        assert all(0 <= byte <= 255 for byte in read_bytes(text))
    except BytesError as problem:
        assert str(problem)
