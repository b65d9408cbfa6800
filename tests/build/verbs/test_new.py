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
