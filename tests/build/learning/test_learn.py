"""`baybook learn` as its user runs it: a folder of sheets, the table, and into the sources."""

import re
import shutil
from pathlib import Path

import pytest
from tests.build.conftest import BASE
from tests.invented_jobs import Bay, write_sheets

from baybook.book.compiled import compile_book
from baybook.book.learned import read_learned
from baybook.cli import main
from baybook.learning.author_values import places, with_values

CONFIG = "site_name: A book\nplugins:\n  - baybook\n"
PROCEDURE = "air"


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """A small book, and sheets of cars with other faults."""
    sources = tmp_path / "book" / "procedures"
    shutil.copytree(BASE / "procedures", sources)
    (tmp_path / "book" / "mkdocs.yml").write_text(CONFIG, "utf-8")
    car = compile_book(sources).bound[0]
    bay = Bay("a-book", PROCEDURE, car.fingerprint, car.network, _truth(car.network), 1)
    write_sheets(tmp_path / "sheets", bay.sheets(80))
    return tmp_path


def _truth(network: dict) -> dict:
    """One fault comes far more often than its author thinks."""
    first = next(place for place in places(network) if place.path[-1] == "often")
    return with_values(network, {first.path: 8 * first.value})


def _run(book: Path, *more: str) -> int:
    config = str(book / "book" / "mkdocs.yml")
    return main(["learn", str(book / "sheets"), "--config", config, "--cars", "0", *more])


def test_it_says_and_writes_nothing(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = {path: path.read_bytes() for path in (book / "book").rglob("*") if path.is_file()}
    assert _run(book) == 0
    said = capsys.readouterr().out
    assert "80 files: 80 sheets used" in said
    assert f"{PROCEDURE}: 80 jobs" in said
    assert "held back" in said
    assert "nothing is written; --write" in said
    after = {path: path.read_bytes() for path in (book / "book").rglob("*") if path.is_file()}
    assert after == before


def test_it_writes_and_goes_on_from_there(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    sources = book / "book" / "procedures"
    file = sources / f"{PROCEDURE}.md"
    old = file.read_text("utf-8")
    assert _run(book, "--write", "--yes") == 0
    new = file.read_text("utf-8")
    assert [line for line in _without_numbers(new) if line not in _without_numbers(old)] == [
        '  - text: "Chances learned from closed jobs of this workshop: , --."',
        "    standing: workshop",
    ]
    assert main(["check", str(sources)]) == 0
    learned = read_learned(sources)[PROCEDURE]
    assert learned.jobs == 80
    car = compile_book(sources).bound[0]
    often = [place.value for place in places(car.network) if place.path[-1] == "often"]
    assert often[0] == max(often)
    path = next(place.path for place in places(car.network) if place.path[-1] == "often")
    assert learned.values[".".join(map(str, path))].weight > 60
    # Sheets of the network as it was count no second time.
    capsys.readouterr()
    assert _run(book) == 1
    assert "its network has changed since" in capsys.readouterr().out


def test_where_nothing_is_better_it_does_not_write_unasked(
    book: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for path in sorted((book / "sheets").iterdir())[3:]:
        path.unlink()  # too few to hold any back
    before = (book / "book" / "procedures" / f"{PROCEDURE}.md").read_bytes()
    assert _run(book, "--write") == 1
    said = capsys.readouterr().out
    assert f"not shown to foretell jobs better: {PROCEDURE}" in said
    assert (book / "book" / "procedures" / f"{PROCEDURE}.md").read_bytes() == before


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["learn", "nowhere"], "expected a folder with bench sheets, got nowhere, which is none"),
        (["learn"], "expected FOLDER after"),
        (["learn", ".", "--jobs", "0"], "expected --jobs of at least 1, got 0"),
        (["learn", ".", "--anonymous", "."], "expected an empty or a new folder for --anonymous"),
    ],
)
def test_a_wrong_command_line_is_told(
    words: list[str], says: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(words) == 2
    assert says in capsys.readouterr().err


def test_anonymous_sheets(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = book / "out"
    assert main(["learn", str(book / "sheets"), "--anonymous", str(out)]) == 0
    assert capsys.readouterr().out == f"wrote 80 sheets to {out}, with nothing personal in them\n"
    assert len(list(out.iterdir())) == 80


def _without_numbers(text: str) -> list[str]:
    return re.sub(r"\d+(\.\d+)?", "", text).splitlines()
