"""Calculators in the terminal."""

import json
from pathlib import Path

import pytest
from tests.calculator_examples import EXAMPLES

from baybook.book.pint_quantities import unit_table_data
from baybook.cli import main
from baycalc import api

EXAMPLE = ["calc", "vacuum_units", "reading=20 inHg", "reference=vacuum", "altitude=1600 m"]


@pytest.fixture(autouse=True)
def wide(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let tables have room."""
    monkeypatch.setenv("COLUMNS", "140")


def rows(text: str) -> list[list[str]]:
    """Return the cells of every row of every table."""
    return [
        [cell.strip() for cell in line.strip("│").split("│")]
        for line in text.splitlines()
        if line.startswith("│")
    ]


def test_an_answer_in_both_unit_systems(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(EXAMPLE) == 0
    found = rows(capsys.readouterr().out)
    assert ["Reading", "reading", "20 inHg"] in found
    assert ["Air pressure from", "barometer_from", "altitude (default)"] in found
    assert not any("barometer" in row for row in found)
    # NIST SP 811 (20 inHg = 67.73 kPa); US Standard Atmosphere 1976 (1600 m: 83.52 kPa).
    assert ["Vacuum", "20.00 inHg", "67.73 kPa"] in found
    assert ["−508.0 mmHg", "118.5 mmHg"] in found


def test_the_same_answer_as_json(capsys: pytest.CaptureFixture[str]) -> None:
    assert main([*EXAMPLE, "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert answer["results"]["vacuum"]["si"] == pytest.approx(20 * 3386.389, rel=1e-6)
    fields = dict(word.split("=", 1) for word in EXAMPLE[2:])
    assert answer == json.loads(json.dumps(api.run("vacuum_units", fields)))


def test_a_unit_may_stand_apart(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["calc", "vacuum_units", "reading=500", "reading.unit=mbar"]) == 0
    assert ["Reading", "reading", "500 mbar"] in rows(capsys.readouterr().out)


def test_a_verdict_shows_its_figures(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["calc", "vacuum_hold", "end=15 inHg"]) == 0
    out = capsys.readouterr().out
    assert "Verdict: fail\n" in out
    assert "Reading 5.00 inHg, limit at most 1.00 inHg, guard band" in out
    assert "limit at most 3.39 kPa" in out


def test_a_note_carries_its_signal_word(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["calc", "fuse"]) == 0
    assert "\nWARNING: A fuse that blows again is a symptom" in capsys.readouterr().out


def test_wrong_fields_are_told_one_by_one(capsys: pytest.CaptureFixture[str]) -> None:
    words = ["reading=20 A", "reference=vacum", "altitude=20000 m"]
    assert main(["calc", "vacuum_units", *words]) == 1
    said = capsys.readouterr()
    assert said.out == ""
    names = [line.split(":")[0] for line in said.err.splitlines()]
    assert names == ["reading", "reference", "altitude"]
    assert main(["calc", "vacuum_units", *words, "--json"]) == 1
    assert list(json.loads(capsys.readouterr().out)["errors"]) == names


def test_all_calculators_are_listed(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["calc"]) == 0
    listed = [row[0] for row in rows(capsys.readouterr().out) if row[0]]
    api.install(unit_table_data())
    assert listed == api.names()


def test_every_calculator_answers_with_its_defaults(capsys: pytest.CaptureFixture[str]) -> None:
    api.install(unit_table_data())
    for name in api.names():
        assert main(["calc", name]) == 0, name
        assert capsys.readouterr().err == ""


def test_every_example_answers(capsys: pytest.CaptureFixture[str]) -> None:
    api.install(unit_table_data())
    for name in api.names():
        for example in EXAMPLES[name]:
            words = [f"{key}={value}" for key, value in example.items()]
            code = main(["calc", name, *words])
            assert code == (1 if api.run(name, example)["errors"] else 0), (name, example)
            capsys.readouterr()


def test_names_of_modules_are_the_ids() -> None:
    folder = Path(api.__file__).parent / "calculators"
    api.install(unit_table_data())
    modules = sorted(path.stem for path in folder.glob("*.py") if path.stem != "__init__")
    assert [api.describe(name).id for name in api.names()] == modules


def test_a_record_comes_from_a_file(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    record = tmp_path / "record.csv"
    record.write_text(EXAMPLES["sensor_response"][5]["record"], encoding="utf-8")
    assert main(["calc", "sensor_response", f"record=@{record}", "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert answer == api.run("sensor_response", EXAMPLES["sensor_response"][5])
    assert main(["calc", "sensor_response", f"record=@{record}"]) == 0
    assert "80 lines" in capsys.readouterr().out
    assert main(["calc", "sensor_response", f"record=@{tmp_path}/none.csv"]) == 2
    assert "expected a file that can be read" in capsys.readouterr().err
