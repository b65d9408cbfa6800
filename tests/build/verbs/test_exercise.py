"""`baybook exercise` and `baybook marks`: set, worked, marked anew."""

import csv
import io
import json
from pathlib import Path

import pytest

from baybook.cli import main

FAULT = "valve-leaks"


@pytest.fixture
def folder(book_folder: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    (book_folder / "mkdocs.yml").write_text("site_name: x\nplugins: [baybook]\n")
    monkeypatch.chdir(book_folder)
    return book_folder


def work(monkeypatch: pytest.MonkeyPatch, lines: str, *words: str) -> int:
    monkeypatch.setattr("sys.stdin", io.StringIO(lines))
    return main(["exercise", "air/car", *words])


def table(out: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(out)))


def test_worked_in_the_terminal_and_marked_anew(folder, monkeypatch, capsys):
    lines = "tests\nrepairs\ntest 1\ntest 99\nsing\nrepair 1\nproof\nclock\nclose\n"
    words = ("--seed", "1", "--faults", FAULT, "--student", "Ada", "--out", "results")
    assert work(monkeypatch, lines, *words) == 0
    said = capsys.readouterr().out
    assert said.startswith("Codes stored: P0411.\n")
    assert "of 100 points" in said and "Expected a number from 1 to" in said
    (file,) = (folder / "results").glob("*.json")
    assert main(["marks", "results"]) == 0
    (row,) = table(capsys.readouterr().out)
    stated = json.loads(file.read_text("utf-8"))["marks"]["total"]
    assert (row["student"], row["points"], row["found wrong"]) == ("Ada", str(stated), "")

    forged = json.loads(file.read_text("utf-8"))
    forged["marks"]["total"] = 100 if stated != 100 else 99
    forged["student"] = "=Bob"
    (folder / "results" / "forged.json").write_text(json.dumps(forged))
    (folder / "results" / "other.json").write_text("{}")
    assert main(["marks", "results", "--out", "class.csv"]) == 1
    rows = table((folder / "class.csv").read_text("utf-8-sig"))
    by_file = {row["file"]: row for row in rows}
    assert by_file["forged.json"]["student"] == "'=Bob"
    assert by_file["forged.json"]["points"] == str(stated)
    assert f"the replay gives {stated}" in by_file["forged.json"]["found wrong"]
    assert "the same acts in the same order as" in "".join(row["found wrong"] for row in rows)
    assert by_file["other.json"]["found wrong"] == "The file is no result of an exercise."


@pytest.mark.usefixtures("folder")
def test_tokens_hide_the_fault_and_open_again(monkeypatch, capsys):
    assert main(["exercise", "air/car", "--faults", FAULT, "--seed", "1", "--give", "2"]) == 0
    tokens = capsys.readouterr().out.split()
    assert len(set(tokens)) == 2
    assert all(FAULT not in token for token in tokens)
    assert main(["exercise", "air/car", "--faults", FAULT, "--seed", "1", "--links"]) == 0
    link = "procedures/air/work.html?car=car#exercise="
    assert capsys.readouterr().out.strip() == link + tokens[0]
    token = tokens[0]
    monkeypatch.setattr("sys.stdin", io.StringIO("stop\n"))
    assert main(["exercise", token]) == 0
    assert "Not mended." in capsys.readouterr().out


def test_an_exercise_left_open_writes_nothing(folder, monkeypatch, capsys):
    assert work(monkeypatch, "test 1\n", "--faults", "none", "--seed", "1") == 1
    assert "The exercise was left open; nothing is written." in capsys.readouterr().out
    assert not list(folder.glob("*.json"))


@pytest.mark.usefixtures("folder")
def test_a_drawn_fault_is_set_without_a_human(monkeypatch, capsys):
    assert work(monkeypatch, "stop\n", "--seed", "3") == 0
    assert "of 100 points" in capsys.readouterr().out


@pytest.mark.usefixtures("folder")
@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["air/cat"], "expected a procedure and a car that it serves, got air/cat"),
        (["air/car", "--faults", "horn"], "The procedure has no fault horn on this car."),
        (["air/car", "--codes", "P9999"], "The procedure has no code P9999 on this car."),
        (["xyz"], "expected PROCEDURE/VEHICLE or a token, got xyz"),
        (["air/car", "--advice", "yes"], "expected one of off, on-demand, on; got yes"),
    ],
)
def test_a_wrong_command_line_is_told(words, told, capsys):
    assert main(["exercise", *words]) == 2
    assert told in capsys.readouterr().err


@pytest.mark.usefixtures("folder")
def test_marks_wants_a_folder(capsys):
    assert main(["marks", "nowhere"]) == 2
    assert "expected a folder with results, got nowhere" in capsys.readouterr().err
