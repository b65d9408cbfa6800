"""Bytes of the scan tool into figures and back."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baycalc import api
from baycalc.physics.scaling import ITEMS


def metric(name: str, **fields: str) -> str:
    return str(api.run("scan_values", fields)["results"][name]["metric"])


# SAE J1979, published formulas; the figures by hand.
@pytest.mark.parametrize(
    ("item", "data", "result", "text"),
    [
        ("trim", "8A", "trim", "7.81\u202f%"),
        ("trim", "41 06 72", "trim", "−10.94\u202f%"),
        ("temperature", "41 05 7B", "temperature", "83.00 °C"),
        ("engine_speed", "0BB8", "engine_speed", "750.00 rpm"),
        ("air_flow", "0x01 0x2C", "air_flow", "3.000 g/s"),
        ("narrow_band", "9B FF", "voltage", "0.7750 V"),
        ("wide_band_voltage", "7F FF 40 00", "lambda_value", "0.99997"),
        # SAE J1979, from memory.
        ("pressure", "1E", "pressure", "30.00 kPa"),
        ("vapour_pressure", "FC 18", "vapour_pressure", "−250.00 Pa"),
        ("wide_band_current", "84 00 80 80", "current", "0.5000 mA"),
    ],
)
def test_bytes_to_figures(item: str, data: str, result: str, text: str) -> None:
    assert metric(result, item=item, raw_bytes=data) == text


@pytest.mark.parametrize(
    ("item", "figures", "data"),
    [
        ("trim", {"value_trim": "12.5 %"}, "90"),
        ("temperature", {"value_temperature": "194 °F"}, "82"),
        ("engine_speed", {"value_engine_speed": "800 rpm"}, "0C 80"),
        ("air_flow", {"value_air_flow": "4 g/s"}, "01 90"),
        ("pressure", {"value_pressure": "29.92 inHg"}, "65"),
        ("vapour_pressure", {"value_vapour_pressure": "-250 Pa"}, "FC 18"),
        ("narrow_band", {"value_voltage": "450 mV"}, "5A FF"),
        ("narrow_band", {"value_voltage": "450 mV", "value_trim": "0 %"}, "5A 80"),
        ("wide_band_current", {"value_lambda_value": "1", "value_current": "0 A"}, "80 00 80 00"),
    ],
)
def test_figures_to_bytes(compute: Any, item: str, figures: dict[str, str], data: str) -> None:
    assert compute(item=item, raw_bytes="", **figures)["bytes_shown"] == data


def test_both_ways_at_once(compute: Any) -> None:
    found = compute(item="temperature", raw_bytes="7B", value_temperature="90 °C")
    assert found["temperature"] == pytest.approx(273.15 + 83)
    assert found["bytes_shown"] == "82"
    assert found["formula"] == "A − 40 °C"


def test_half_of_a_pair_gives_no_bytes(compute: Any) -> None:
    found = compute(item="wide_band_voltage", raw_bytes="80 00 40 00", value_lambda_value="1")
    assert "bytes_shown" not in found


# Rich above 0.6 V, lean below 0.3 V: common practice.
@pytest.mark.parametrize(
    ("data", "status"), [("9B FF", "rich"), ("20 FF", "lean"), ("5A FF", "between rich and lean")]
)
def test_narrow_band_says(compute: Any, data: str, status: str) -> None:
    assert compute(item="narrow_band", raw_bytes=data)["status"] == status


# SAE J1979, service 01, PID 12, from memory.
@pytest.mark.parametrize(
    ("data", "status"),
    [
        ("01", "air goes in upstream of the first catalyst"),
        ("41 12 02", "air goes in downstream of the first catalyst's inlet"),
        ("04", "air goes to the atmosphere, or is off"),
        ("08", "the pump is commanded on for diagnosis"),
        ("00", "no state is set"),
    ],
)
def test_secondary_air_status(compute: Any, data: str, status: str) -> None:
    assert compute(item="secondary_air", raw_bytes=data)["status"] == status


def test_result_of_service_06() -> None:
    # SAE J1979, example of service 06 (from memory): 0BB0 with scaling 0A is 0.365 V.
    answer = api.run(
        "scan_values", {"item": "test_result", "raw_bytes": "46 01 01 0A 0B B0 0B B0 0B B0"}
    )
    assert answer["results"]["test_value"]["si"] == "0.36523 V"
    assert answer["results"]["test_id"]["si"] == "01"
    assert answer["results"]["test_verdict"]["outcome"] == "pass"


@pytest.mark.parametrize(
    ("data", "value", "outcome"),
    [
        ("81 8B FF 38 FE 0C 01 F4", "−0.2000 V", "pass"),
        ("81 8B FE 00 FE 0C 01 F4", "−0.5120 V", "fail"),
        ("05 24 00 07 00 00 00 05", "7.000", "fail"),
        ("05 16 03 84 00 00 FF FF", "122.00 °F (50.00 °C)", "pass"),
    ],
)
def test_limits_of_service_06(compute: Any, data: str, value: str, outcome: str) -> None:
    found = compute(item="test_result", raw_bytes=data)
    assert found["test_value"] == value
    assert found["test_verdict"] == outcome


@pytest.mark.parametrize(
    ("fields", "problems"),
    [
        ({"raw_bytes": "8A 8B"}, {"raw_bytes": "Expected 1 byte in hex, got 2. An example of "
         "this item: 8A."}),
        ({"raw_bytes": "+8 %"},
         {"raw_bytes": "“+8” is not hex: expected digits 0 to 9 and A to F. An example of this "
          "item: 8A."}),
        (
            {"item": "engine_speed", "raw_bytes": "8A"},
            {"raw_bytes": "Expected 2 bytes in hex, got 1. An example of this item: 0B B8."},
        ),
        (
            {"item": "wide_band_voltage", "raw_bytes": "", "value_lambda_value": "1"},
            {"value_voltage": "Type this figure too: the bytes hold all of them."},
        ),
        (
            {"item": "temperature", "raw_bytes": "41 06 8A"},
            {"raw_bytes": "These bytes answer item 06, not this one. An example of this "
             "item: 7B."},
        ),
        (
            {"item": "temperature", "value_temperature": "300 °C"},
            {"value_temperature": "This item shows −40.0 °F (−40.0 °C) to 419 °F (215 °C) "
             "and no more."},
        ),
        (
            {"item": "test_result", "raw_bytes": "01 77 0B B0 0B B0 0B B0"},
            {"raw_bytes": "The unit-and-scaling id 77 is not in the table here: look into SAE "
             "J1979."},
        ),
        (
            {"item": "test_result", "raw_bytes": "01 8B 00 00 00 05 FF F0"},
            {"raw_bytes": "The least value lies above the greatest one: check the order of the "
             "bytes and the id."},
        ),
    ],
)  # fmt: skip
def test_refusals(fields: dict[str, str], problems: dict[str, str]) -> None:
    assert api.run("scan_values", fields) == {"errors": problems}


@pytest.mark.parametrize("item", [*ITEMS, "test_result"])
def test_an_item_without_bytes_shows_an_example_of_it(item: str) -> None:
    """What the form sends when only the item was changed."""
    shown = api.run("scan_values", {"item": item, "raw_bytes": ""})
    assert shown["errors"] == {}
    told = shown["notes"][0]["text"]
    example = told.removeprefix("No bytes are typed: this shows an example, ").removesuffix(".")
    typed = api.run("scan_values", {"item": item, "raw_bytes": example})
    assert typed["notes"] == shown["notes"][1:]
    shown["results"].pop("bytes_shown", None)
    assert typed["results"] == shown["results"]


def test_an_example_is_shown_as_bytes(compute: Any) -> None:
    """8A is 138: (138 - 128)/1.28 % (SAE J1979)."""
    found = compute()
    assert found["bytes_shown"] == "8A"
    assert found["trim"] == pytest.approx(10 / 128)


def test_a_figure_of_another_item_does_not_count_as_typed(compute: Any) -> None:
    assert compute(item="engine_speed", value_trim="3 %")["bytes_shown"] == "0B B8"


@given(st.sampled_from(sorted(set(ITEMS) - {"secondary_air"})), st.data())
def test_there_and_back(compute: Any, item: str, data: st.DataObject) -> None:
    size = ITEMS[item].size
    raw = data.draw(st.binary(min_size=size, max_size=size)).hex(" ").upper()
    figures = {f"value_{part.id}": part for part in ITEMS[item].parts}
    found = compute(item=item, raw_bytes=raw)
    si = {"trim": "1", "share": "1", "lambda_value": "1", "temperature": "K", "timing": "rad",
          "vehicle_speed": "m/s", "voltage": "V", "current": "A", "pressure": "Pa",
          "vapour_pressure": "Pa"}  # fmt: skip
    typed = {}
    for name, part in figures.items():
        if part.id in found:
            value, unit = found[part.id], si.get(part.id)
            if part.id == "engine_speed":
                value, unit = value * 60, "rpm"
            elif part.id == "air_flow":
                value, unit = value * 1000, "g/s"
            typed |= {name: repr(value), f"{name}.unit": unit}
    assert compute(item=item, raw_bytes="", **typed)["bytes_shown"] == raw


@given(st.integers(-40, 215))
def test_units_commute(compute: Any, degrees: int) -> None:
    one = compute(item="temperature", raw_bytes="", value_temperature=f"{degrees} °C")
    other = compute(item="temperature", raw_bytes="",
                    value_temperature=f"{degrees * 1.8 + 32!r} °F")  # fmt: skip
    assert one == other


@pytest.mark.parametrize(
    ("item", "raw", "name", "shown"),
    [
        ("engine_speed", "FF FF", "engine_speed", "16383.75 rpm"),
        ("trim", "99", "trim", "19.53\u202f%"),
        ("air_flow", "00 01", "air_flow", "0.01000 g/s"),
        ("module_voltage", "FF FF", "voltage", "65.535 V"),
    ],
)
def test_no_figure_is_rounded_below_what_its_bytes_say(
    run: Any, item: str, raw: str, name: str, shown: str
) -> None:
    assert run(item=item, raw_bytes=raw)["results"][name]["metric"] == shown


def test_a_verdict_shows_the_step_of_its_bytes(run: Any) -> None:
    """One step of 0.122 mV beyond the greatest value is a fail that can be seen."""
    written = run(item="test_result", raw_bytes="01 0A 0B B1 0B A0 0B B0")["results"]
    assert written["test_verdict"]["outcome"] == "fail"
    assert written["test_verdict"]["us"].startswith(
        "Reading 0.36536 V, limit at least 0.36328 V and at most 0.36523 V"
    )


@pytest.mark.parametrize(
    ("item", "told"),
    [
        ("trim", "Above zero fuel is added: the mixture would be lean without it."),
        ("narrow_band", "Rich above 0.6 V, lean below 0.3 V: common practice."),
        ("pressure", "Absolute pressure. With the engine off both show the air around."),
    ],
)
def test_what_an_item_means_is_said(item: str, told: str) -> None:
    notes = [note["text"] for note in api.run("scan_values", {"item": item})["notes"]]
    assert told in notes
