"""Bad input, field by field, with the whole sentence that stands beside it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baybook.book.pint_quantities import unit_table_data
from baycalc import api
from baycalc.forms.parse import read_fields, split_quantity

api.install(unit_table_data())


def errors(name: str, **fields: str) -> dict[str, str]:
    written = {key.replace("__", "."): value for key, value in fields.items()}
    found: dict[str, str] = api.run(name, written)["errors"]
    return found


@pytest.mark.parametrize("text", ["AWG10", "AWG 10", "awg 10", "10 AWG"])
def test_a_gauge_of_wire_may_lead_its_number(text: str) -> None:
    assert split_quantity(text, "mm2") == ("10", "AWG")


PRESSURES = "inHg, kPa, mmHg, mbar, hPa, psi, inH2O, mmH2O"


@pytest.mark.parametrize(
    ("fields", "told"),
    [
        ({"start": ""}, {"start": "Missing: type a number."}),
        ({"start": "\u2009"}, {"start": "Missing: type a number."}),
        ({"start": "much"}, {"start": "“much” is not a number."}),
        ({"time": "60 V"}, {"time": "“V” is a unit of voltage; expected time: s, min, h, ms, d, "
                            "months, years."}),
        ({"start": "20 mm"},
         {"start": f"“mm” is a unit of length; expected pressure: {PRESSURES}."}),
        ({"start": "20 bananas"}, {"start": f"“bananas” is not a unit of pressure; known are "
                                   f"{PRESSURES}."}),
        ({"start": "20", "start__unit": "furlong"},
         {"start": f"“furlong” is not a unit of pressure; known are {PRESSURES}."}),
        ({"temperature": "-300 °C"}, {"temperature": "“-300 °C” lies below absolute zero."}),
        ({"temperature": "-500", "temperature__unit": "°F"},
         {"temperature": "“-500” lies below absolute zero."}),
        ({"time": "-5 s"}, {"time": "Expected at least 1 s, got -5 s."}),
        ({"time": "-5"}, {"time": "Expected at least 1 s, got -5 s."}),
        ({"altitude": "20000 m"}, {"altitude": "Expected at most 11000 m, got 20000 m."}),
        ({"altitude": "50000"}, {"altitude": "Expected at most 36089 ft (11000 m), got 50000 ft."}),
        ({"start": "40", "start__unit": "inHg"},
         {"start": "Expected at most 32.48 inHg (110 kPa), got 40 inHg."}),
        ({"volume_uncertainty": "80"}, {"volume_uncertainty": "Expected at most 50 %, got 80 %."}),
        ({"end": "inf"}, {"end": "“inf” is not a finite number."}),
        ({"end": "-∞"}, {"end": "“-∞” is not a finite number."}),
        ({"end": "nan inHg"}, {"end": "“nan inHg” is not a finite number."}),
        ({"end": "1e999"}, {"end": "“1e999” is too large."}),
        ({"end": "7" * 400},
         {"end": "“77777777777777777777…” is too long for a reading: 40 digits at most."}),
        ({"end": "1,250"},
         {"end": "“1,250” can be read as 1.250 or as 1250: write it without the comma."}),
        ({"gauge_grade": "Z"},
         {"gauge_grade": "Expected one of 4A, 3A, 2A, 1A, A, B, C, D, none; got Z."}),
        ({"start": "", "end": "x", "time": "0 s"},
         {"start": "Missing: type a number.", "end": "“x” is not a number.",
          "time": "Expected at least 1 s, got 0 s."}),
    ],
)  # fmt: skip
def test_bad_fields(fields: dict[str, str], told: dict[str, str]) -> None:
    assert errors("vacuum_hold", **fields) == told


def test_vacuum_deeper_than_the_barometer_allows() -> None:
    told = errors("vacuum_hold", start="26 inHg", altitude="1600 m")
    assert told == {
        "start": "No vacuum can be as deep as the air pressure here, 24.67 inHg (83.53 kPa)."
    }


def test_wire_gauge_out_of_range() -> None:
    assert errors("fuse", conductor="AWG 60") == {
        "conductor": "Expected at least AWG 27 (0.1 mm2), got AWG 60."
    }


def test_yes_or_no() -> None:
    assert errors("added_air", burns="perhaps") == {"burns": "Expected yes or no, got “perhaps”."}
    for yes, no in (("true", "false"), ("Yes", "NO"), ("on", "off"), ("1", "0"), ("1", "")):
        values = [read_fields(api.describe("added_air"), {"burns": text})[0] for text in (yes, no)]
        assert [each["burns"] for each in values] == [True, False]


def test_texts_have_an_end() -> None:
    told = errors("scan_values", raw_bytes="00 " * 200)
    assert told == {"raw_bytes": "Is too long: 80 characters at most."}


@pytest.mark.parametrize(
    "text", ["20,5 inHg", "20.5 in. Hg", "20.5 ″Hg", "20\u2009½ inHg", "+20.5inHg", "20.5 INHG"]
)
def test_one_reading_in_many_spellings(text: str) -> None:
    values, told = read_fields(api.describe("vacuum_hold"), {"start": text})
    assert told == {}
    assert values["start"] == pytest.approx(20.5 * 3386.389, rel=1e-6)


def test_a_hidden_field_is_not_looked_at() -> None:
    values, told = read_fields(api.describe("vacuum_hold"), {"barometer": "rubbish"})
    assert told == {}
    assert values["barometer"] == pytest.approx(101325, rel=1e-4)  # its default, 29.92 inHg
    assert errors("vacuum_hold", barometer="rubbish", barometer_from="measured") == {
        "barometer": "“rubbish” is not a number."
    }


def test_what_may_stay_empty() -> None:
    values, told = read_fields(api.describe("fuel_trim"), {"air_flow": " "})
    assert told == {}
    assert values["air_flow"] is None
    values, _ = read_fields(api.describe("fuel_trim"), {})
    assert values["air_flow"] == pytest.approx(0.5 * 0.45359237 / 60)  # 0.5 lb/min


def test_defaults_ignore_the_menu() -> None:
    values, _ = read_fields(api.describe("vacuum_hold"), {"start.unit": "kPa"})
    assert values["start"] == pytest.approx(20 * 3386.389, rel=1e-6)


@given(st.sampled_from(api.names()), st.data())
def test_no_field_does_harm(name: str, data: st.DataObject) -> None:
    calculator = api.describe(name)
    ids = [entry.id for entry in calculator.inputs]
    texts = st.text(max_size=30) | st.floats().map(repr) | st.integers().map(str)
    fields = data.draw(st.dictionaries(st.sampled_from(ids), texts, max_size=4))
    answer = api.run(name, fields)
    assert set(answer["errors"]) <= {*ids, ""}
    assert all(text.endswith((".", "…")) or text[-1] in ".?!" for text in answer["errors"].values())


@pytest.mark.parametrize(
    ("text", "unit", "pair"),
    [
        ("20 inHg", "kPa", ("20", "inHg")),
        ("20", "kPa", ("20", "kPa")),
        ("AWG 12", "mm2", ("12", "AWG")),
        ("2 Pa L/s", "Pa m3/s", ("2", "Pa L/s")),
    ],
)
def test_split_quantity(text: str, unit: str, pair: tuple[str, str]) -> None:
    assert split_quantity(text, unit) == pair
