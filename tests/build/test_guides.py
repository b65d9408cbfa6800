"""The guides for authors say what is so: the ten minutes give a procedure, all words are told."""

import re
from pathlib import Path

import pytest
import yaml

from baybook.book.checks.check_sections import SECTIONS
from baybook.book.prose.environment import FUNCTIONS, VALUES
from baybook.book.sources.load import load_book
from baybook.cli import BAYBOOK, main
from baybook.pages.authors.authors_pages import GUIDES

BLOCK = re.compile(r"^```(\w+)\n(.*?)^```$", re.MULTILINE | re.DOTALL)


def guide(name: str) -> str:
    return (GUIDES / f"{name}.md").read_text("utf-8")


def blocks(name: str, *languages: str) -> list[str]:
    """Return the blocks of a guide that are written in some languages."""
    return [text for language, text in BLOCK.findall(guide(name)) if language in languages]


@pytest.fixture
def procedures(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The sources of a new book with the procedure of the ten minutes, block by block."""
    monkeypatch.chdir(tmp_path)
    assert main(["new", "book", "my-book"]) == 0
    monkeypatch.chdir(tmp_path / "my-book")
    folder = tmp_path / "my-book" / "procedures"
    front_and_body = blocks("ten-minutes", "yaml", "markdown")[:4]
    (folder / "crankcase-hose.md").write_text("\n".join(front_and_body), "utf-8")
    return folder


def test_the_blocks_of_the_ten_minutes_pass_the_check(
    procedures: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    capsys.readouterr()
    assert main(["check", "--strict"]) == 0
    assert capsys.readouterr().out == "2 procedures, 1 vehicle: 0 errors, 0 warnings\n"
    data = load_book(procedures).procedures["crankcase-hose"].data
    assert (len(data.parts), len(data.faults), len(data.tests)) == (4, 2, 3)


def test_the_figure_of_the_car_passes_too(
    procedures: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    figure, limit = blocks("ten-minutes", "yaml")[3:]
    with (procedures / "vehicles" / "first-car.yml").open("a") as car:
        car.write(figure)
    source = procedures / "crankcase-hose.md"
    text = source.read_text("utf-8")
    old = "        limit: {at-least: 15 inHg}\n"
    assert text.count(old) == 1
    source.write_text(text.replace(old, limit), "utf-8")
    capsys.readouterr()
    assert main(["check", "--strict"]) == 0


def test_the_mistake_that_it_proposes_is_told(
    procedures: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    source = procedures / "crankcase-hose.md"
    text = source.read_text("utf-8")
    source.write_text(text.replace("shows: {hose-split: 0.7}", "shows: {hose-splitt: 0.7}"))
    capsys.readouterr()
    assert main(["check"]) == 1
    assert "expected a fault of this procedure, got hose-splitt" in capsys.readouterr().out


def test_its_commands_are_commands() -> None:
    named = {
        line.split()[1]
        for name in ("ten-minutes", "publishing")
        for text in blocks(name, "sh")
        for line in text.splitlines()
        if line.startswith("baybook ")
    }
    assert named == {"new", "serve", "check", "build"}
    assert named <= BAYBOOK.commands.keys()


def test_the_words_in_braces_are_all_told() -> None:
    text = guide("text")
    assert [word for word in FUNCTIONS if f"{{{{ {word}(" not in text] == ["has"]
    assert '{% if has("electric-valve") %}' in text
    assert all(f"{{{{ {word}." in text for word in VALUES)


def test_the_sections_are_all_told_in_order() -> None:
    found = re.findall(r"`## (.*?) \{#(.*?)\}`", guide("text"))
    assert [(name, title) for title, name in found] == [*SECTIONS.items()]


def test_the_safety_message_of_the_style_guide_is_one() -> None:
    message = yaml.safe_load(blocks("style", "yaml")[0])
    assert [*message] == ["signal", "hazard", "result", "avoid"]
