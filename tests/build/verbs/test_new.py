"""Skeletons: complete, valid, and never written over anything."""

from pathlib import Path

import pytest

from baybook.book.sources.load import load_book
from baybook.cli import main


@pytest.fixture(autouse=True)
def empty_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Work in an empty folder."""
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_the_skeletons_pass_the_check(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["new", "procedure", "purge-leak"]) == 0
    assert capsys.readouterr().out == (
        "wrote procedures/purge-leak.md\n"
        "next: a book needs a vehicle too: baybook new vehicle NAME\n"
    )
    assert main(["new", "vehicle", "my-car"]) == 0
    assert capsys.readouterr().out == (
        "wrote procedures/vehicles/my-car.yml\nnext: fill it in, and run baybook check\n"
    )
    assert main(["check", "--strict"]) == 0
    assert capsys.readouterr().out == "1 procedure, 1 vehicle: 0 errors, 0 warnings\n"


def test_a_skeleton_passes_beside_others(
    book_folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert (
        main(["new", "procedure", "purge-leak", "--folder", str(book_folder / "procedures")]) == 0
    )
    assert capsys.readouterr().out.endswith("next: fill it in, and run baybook check\n")
    assert main(["check", "--strict"]) == 0


def test_the_skeletons_are_named_and_use_every_part(empty_folder: Path) -> None:
    main(["new", "procedure", "purge-leak"])
    main(["new", "vehicle", "my-car"])
    book = load_book(empty_folder / "procedures")
    procedure = book.procedures["purge-leak"].data
    assert procedure.title == "Purge leak"
    assert book.vehicles["my-car"].data.name == "My car"
    seen = [seen for test in procedure.tests.values() for seen in test.observations.values()]
    assert any(each.asks for each in seen)
    assert any(each.reading for each in seen)
    assert procedure.tools
    assert procedure.setups
    assert procedure.safety


@pytest.mark.parametrize("what", ["procedure", "vehicle"])
def test_nothing_is_written_over(
    what: str, empty_folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    main(["new", what, "thing"])
    path = next(empty_folder.rglob("thing.*"))
    path.write_text("mine")
    capsys.readouterr()
    assert main(["new", what, "thing"]) == 2
    assert capsys.readouterr().err == (
        f"baybook: expected a new name, got {path.relative_to(empty_folder)}, which exists\n"
        "    hint: choose another\n"
    )
    assert path.read_text() == "mine"


def test_the_configuration_names_the_folder(empty_folder: Path) -> None:
    (empty_folder / "mkdocs.yml").write_text("plugins:\n  - baybook: {sources: src}\n")
    assert main(["new", "vehicle", "my-car"]) == 0
    assert (empty_folder / "src/vehicles/my-car.yml").is_file()


def test_a_folder_that_cannot_be_written(
    empty_folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (empty_folder / "procedures").write_text("a file")
    assert main(["new", "procedure", "x"]) == 2
    assert capsys.readouterr().err.startswith("baybook: cannot write procedures/x.md: ")


def test_a_new_book_passes_the_check(
    empty_folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["new", "book", "shelf/evening-class"]) == 0
    assert capsys.readouterr().out == (
        "wrote 6 files into shelf/evening-class\nnext: go there, and run baybook serve\n"
    )
    folder = empty_folder / "shelf" / "evening-class"
    assert sorted(path.relative_to(folder).as_posix() for path in folder.rglob("*.*")) == [
        ".gitignore",
        "docs/index.md",
        "mkdocs.yml",
        "procedures/first-procedure.md",
        "procedures/shared.yml",
        "procedures/vehicles/first-car.yml",
    ]
    assert (folder / "mkdocs.yml").read_text().splitlines()[1] == 'site_name: "Evening class"'
    monkeypatch.chdir(folder)
    assert main(["check", "--strict"]) == 0
    assert capsys.readouterr().out == "1 procedure, 1 vehicle: 0 errors, 0 warnings\n"


def test_a_new_book_goes_into_an_empty_folder_only(
    empty_folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (empty_folder / "mine").mkdir()
    (empty_folder / "mine" / "notes.txt").write_text("mine")
    assert main(["new", "book", "mine"]) == 2
    assert capsys.readouterr().err == (
        "baybook: expected a new folder, got mine, which is not empty\n    hint: choose another\n"
    )
    assert [path.name for path in (empty_folder / "mine").iterdir()] == ["notes.txt"]
    (empty_folder / "empty").mkdir()
    assert main(["new", "book", "empty"]) == 0


def test_a_new_book_takes_no_folder_of_sources(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["new", "book", "shelf", "--folder", "elsewhere"]) == 2
    assert capsys.readouterr().err == (
        "baybook: expected no --folder with a book\n    hint: it goes into shelf/procedures\n"
    )


OWN_CAR = """name: Norvex Lark 2.0 (2012)
engine: four cylinders, 2.0 L
has: [air-pump]
figures:
  valve-vacuum: {says: Vacuum of the valve, between: [6 inHg, 12 inHg]}
"""


def test_a_car_that_a_reader_has_saved_comes_into_the_book(
    book_folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    saved = tmp_path / "norvex-lark.yml"
    saved.write_text(OWN_CAR)
    sources = book_folder / "procedures"
    words = ["new", "vehicle", "lark", "--from", str(saved), "--folder", str(sources)]
    assert main(words) == 0
    assert capsys.readouterr().out.endswith("next: run baybook check\n")
    assert (sources / "vehicles" / "lark.yml").read_text() == OWN_CAR
    assert load_book(sources).vehicles["lark"].data.name == "Norvex Lark 2.0 (2012)"
    assert main(words) == 2  # never written over


def test_a_car_with_mistakes_does_not_come_into_the_book(
    book_folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    saved = tmp_path / "norvex-lark.yml"
    saved.write_text(OWN_CAR.replace("12 inHg", "2 inHg").replace("engine:", "motor:"))
    sources = book_folder / "procedures"
    assert main(["new", "vehicle", "lark", "--from", str(saved), "--folder", str(sources)]) == 1
    said = capsys.readouterr().err
    assert "engine" in said
    assert "valve-vacuum" in said
    assert not (sources / "vehicles" / "lark.yml").exists()


def test_only_a_vehicle_comes_from_a_file(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["new", "procedure", "air", "--from", "x.yml"]) == 2
    assert "expected no --from with a procedure" in capsys.readouterr().err
    assert main(["new", "vehicle", "air", "--from", "x.yml"]) == 2
    assert "which is not there" in capsys.readouterr().err
