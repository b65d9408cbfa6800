"""Every error has an entry, and every entry an example that is held to the sources of the tests."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
import yaml

from baybook.book.checks.check_book import check_book
from baybook.book.mistakes import Mistake, mistakes
from baybook.book.sources.load import load_book
from baycalc.forms.declare import Calculator

BOOK = Path(__file__).parents[2] / "build" / "baybook" / "book"
FOLDER = Path(__file__).parents[1] / "wrong_sources"
SEVERAL_AT_ONCE = {"base", "many-files", "many-in-one-file", "references-beside-types"}
"""Folders that hold no kind of their own."""

ABOUT_FILES = {
    "control-character",
    "empty-file",
    "figures-damaged",
    "figures-that-are-old",
    "file-name",
    "no-sections",
    "not-utf-8",
    "stray-files",
}
"""Kinds whose example is told in words: it is no line of a source."""

FILLED_IN = {
    "expected X, got X",
    "expected X, got nothing",
    "expected X; got X",
    "expected a list of X, got X",
    "expected a number X X, got X",
    "expected another name, got X",
    "expected each name once, got X again",
    "expected front matter between two lines of ---, got X",
}
"""Sentences that are made of other ones: the golden folders hold what comes of them."""

BY_ID = {mistake.id: mistake for mistake in mistakes()}
KINDS = sorted({path.name for path in FOLDER.iterdir() if path.is_dir()} - SEVERAL_AT_ONCE)


def told(kind: str) -> set[str]:
    """Return the texts of the problems of a golden folder, without place, field and hint."""
    lines = (FOLDER / kind / "expected.txt").read_text("utf-8").splitlines()
    return {f"expected {line.split('expected ', 1)[1]}" for line in lines if "expected " in line}


def sources_of(kind: str, folder: Path) -> str:
    """Return all sources of a golden folder, as `baybook check` reads them."""
    base = FOLDER / "base"
    edits = FOLDER / kind / "edits.yml"
    texts = {
        path.relative_to(base).as_posix(): path.read_text("utf-8")
        for path in base.rglob("*.*")
        if path.is_file()
    }
    for name, changes in yaml.safe_load(edits.read_text("utf-8")).items() if edits.exists() else ():
        for old, new in changes.items():
            texts[name] = texts[name].replace(old, new)
    for name, text in texts.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(text, "utf-8")
    return "\n".join(texts.values())


def lines_of(text: str) -> list[str]:
    return [line.strip().removeprefix("- ") for line in text.splitlines() if line.strip()]


def tells(mistake: Mistake, text: str) -> bool:
    """Tell whether a problem's text is one of a kind's sentences."""
    patterns = (re.escape(sentence).replace(r"\.\.\.", ".+") for sentence in mistake.says)
    return any(re.fullmatch(pattern, text, re.DOTALL) for pattern in patterns)


def test_every_golden_folder_has_an_entry_and_every_entry_a_folder() -> None:
    assert sorted(BY_ID) == KINDS


@pytest.mark.parametrize("kind", KINDS)
def test_a_golden_folder_is_told_by_its_entry(kind: str) -> None:
    assert any(tells(BY_ID[kind], text) for text in told(kind))


def test_every_text_of_the_golden_folders_has_an_entry() -> None:
    texts = set().union(*map(told, {*KINDS, *SEVERAL_AT_ONCE} - {"base"}))
    assert [text for text in sorted(texts) if not any_entry(text)] == []


def any_entry(text: str) -> bool:
    return any(tells(mistake, text) for mistake in mistakes())


def sentences() -> Iterator[str]:
    """Give every sentence of the checks as it stands in the program, X for what is filled in."""
    for path in sorted(BOOK.rglob("*.py")):
        nodes = list(ast.walk(ast.parse(path.read_text("utf-8"))))
        pieces = {
            id(part) for node in nodes if isinstance(node, ast.JoinedStr) for part in node.values
        }
        for node in nodes:
            parts = node.values if isinstance(node, ast.JoinedStr) else [node]
            text = "".join(
                str(part.value) if isinstance(part, ast.Constant) else "X" for part in parts
            )
            if id(node) not in pieces and text.startswith("expected "):
                yield text


def test_every_sentence_of_the_program_has_an_entry() -> None:
    found = set(sentences())
    assert found >= FILLED_IN
    assert [text for text in sorted(found - FILLED_IN) if not any_entry(text)] == []


@pytest.mark.parametrize("mistake", mistakes(), ids=lambda mistake: mistake.id)
def test_the_examples_are_lines_of_sources(mistake: Mistake, tmp_path: Path) -> None:
    wrong = sources_of(mistake.id, tmp_path / "wrong")
    right = sources_of("base", tmp_path / "right")
    if mistake.id not in ABOUT_FILES:
        assert [line for line in lines_of(mistake.wrong) if line not in wrong] == []
        assert [line for line in lines_of(mistake.right) if line not in right] == []
    assert mistake.wrong != mistake.right


def test_the_right_examples_are_right(tmp_path: Path, calculators: dict[str, Calculator]) -> None:
    sources_of("base", tmp_path)
    assert check_book(load_book(tmp_path / "procedures"), calculators) == []


def test_a_text_is_of_its_kind_and_of_no_other() -> None:
    own = [each.id for each in mistakes() if tells(each, "expected a tool, got pomp")]
    assert own == ["unknown-tool"]
    assert not any_entry("expected nothing of the sort")
