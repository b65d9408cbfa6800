"""Lamp, codes and monitors, from bytes or from ticks."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baycalc import api
from baycalc.physics.obd import IGNITIONS, STATES

CHOICES = st.sampled_from(STATES)


def notes(**fields: str) -> list[str]:
    return [note["text"] for note in api.run("monitor_status", fields)["notes"]]


def test_an_example_by_hand(compute: Any) -> None:
    # SAE J1979 bits; computed by hand: lamp, 2 codes, all complete but secondary air.
    found = compute(status_bytes="82 07 6D 08")
    assert found["lamp"] is True
    assert found["codes"] == "2"
    assert found["to_run"] == "secondary air"
    assert found["secondary_air_state"] == "not complete"
    assert found["catalyst_state"] == "complete"
    assert "egr_state" not in found
    assert found["inspection"] == "It fails: the lamp is commanded on."


# EPA420-R-01-015: up to two open for model years 1996 to 2000, one from 2001.
@pytest.mark.parametrize(
    ("open_yet", "year", "ready"),
    [("00", "2001", True), ("01", "2001", True), ("05", "2001", False), ("05", "2000", True),
     ("25", "1996", False), ("05", "1999", True)],
)  # fmt: skip
def test_ready_by_model_year(compute: Any, open_yet: str, year: str, ready: bool) -> None:
    found = compute(status_bytes=f"00 07 65 {open_yet}", model_year=year)
    assert found["ready"] is ready


def test_a_programme_of_its_own(compute: Any) -> None:
    found = compute(status_bytes="00 07 65 04", programme_allows="0")
    assert found["ready"] is False
    assert found["inspection"] == "It is turned away: 1 monitor is not complete, 0 may be."


@pytest.mark.parametrize(
    ("fields", "inspection"),
    [
        ({"status_bytes": "00 07 65 00"},
         "Ready: the lamp is off and enough monitors are complete."),
        ({"status_bytes": "01 07 65 00"},
         "The monitors are ready, but codes are stored: find out why before the inspection."),
        ({"status_bytes": "81 07 65 65"},
         "It fails: the lamp is commanded on, and too many monitors are not complete."),
        ({"status_bytes": "00 00 00 00"}, "Nothing can be said: no monitor is supported."),
    ],
)  # fmt: skip
def test_inspection(compute: Any, fields: dict[str, str], inspection: str) -> None:
    assert compute(**fields)["inspection"] == inspection


def test_ticks_of_spark_ignition(compute: Any) -> None:
    found = compute(entry="spark", lamp_lit="true", code_count="2", secondary_air="not complete",
                    egr="not supported")  # fmt: skip
    assert found["bytes"] == "82 07 6D 08"


def test_ticks_of_compression_ignition(compute: Any) -> None:
    found = compute(entry="compression", particle_filter="not complete")
    assert found["bytes"] == "00 0F EB 40"
    assert found["to_run"] == "particle filter"
    assert "catalyst_state" not in found


def test_what_runs_a_monitor_is_told() -> None:
    told = notes(status_bytes="82 07 6D 08")
    assert told[0] == "Secondary air: a cold start, then idling until warm."
    assert told[-1].startswith("Programs differ")


def test_cleared_not_long_ago() -> None:
    text = "Nothing has run yet: the codes were cleared, or the battery was off, not long ago."
    assert text in notes(status_bytes="00 07 65 65")
    assert text not in notes(status_bytes="00 07 65 64")


def test_85_percent_fill() -> None:
    # 13 CCR 1968.2(e)(4.3.3): the leak check may be disabled above 85 % fill.
    assert any("85 % full" in text for text in notes(status_bytes="00 07 65 04"))


@pytest.mark.parametrize(
    ("fields", "problems"),
    [
        ({"status_bytes": "82 07 6D"}, {"status_bytes": "Expected 4 bytes in hex, got 3."}),
        (
            {"status_bytes": "lamp on"},
            {"status_bytes": "“lamp” is not hex: expected digits 0 to 9 and A to F."},
        ),
        ({"model_year": "2001.5"}, {"model_year": "Expected a whole number."}),
        ({"model_year": "1995"}, {"model_year": "Expected at least 1996, got 1995."}),
        ({"entry": "spark", "code_count": "1.5"}, {"code_count": "Expected a whole number."}),
        (
            {"entry": "spark", "catalyst": "maybe"},
            {"catalyst": "Expected one of complete, not complete, not supported; got maybe."},
        ),
    ],
)
def test_refusals(fields: dict[str, str], problems: dict[str, str]) -> None:
    assert api.run("monitor_status", fields) == {"errors": problems}


@given(st.sampled_from(sorted(IGNITIONS)), st.booleans(), st.integers(0, 127), st.data())
def test_ticks_and_bytes_are_inverse(
    compute: Any, ignition: str, lamp: bool, codes: int, data: st.DataObject
) -> None:
    ticks = {name: data.draw(CHOICES) for name in IGNITIONS[ignition]}
    ticked = compute(entry=ignition, lamp_lit=str(lamp).lower(), code_count=str(codes), **ticks)
    assert compute(status_bytes=ticked["bytes"]) == ticked


@given(st.integers(0, 255), st.integers(0, 255), st.integers(1996, 2030))
def test_more_complete_is_never_less_ready(
    compute: Any, there: int, open_yet: int, year: int
) -> None:
    some = compute(status_bytes=f"00 07 {there:02X} {open_yet:02X}", model_year=str(year))
    none = compute(status_bytes=f"00 07 {there:02X} 00", model_year=str(year))
    assert none["ready"] is True
    assert int(none["incomplete"]) <= int(some["incomplete"])
