"""A build that would make the same book again is left out, and no other one is."""

import os
from collections.abc import Callable
from pathlib import Path

import pytest

from baybook.output.site_folder import mark
from baybook.output.unchanged import content_name, inputs_name, keep_build, last_build
from baybook.verbs.configuration import inputs_of

PLAIN = "site_name: x\ntheme: {name: material}\nplugins:\n  - baybook: {sources: own}\n"


@pytest.fixture
def book(tmp_path: Path) -> Path:
    (tmp_path / "own").mkdir()
    (tmp_path / "own" / "air.md").write_text("one")
    (tmp_path / "docs").mkdir()
    (tmp_path / "mkdocs.yml").write_text(PLAIN)
    (tmp_path / "site").mkdir()
    (tmp_path / "site" / "index.html").write_text("a page")
    mark(tmp_path / "site")
    return tmp_path


def name_of(book: Path) -> str:
    return inputs_name(inputs_of(book / "mkdocs.yml"))


def is_left_out(book: Path) -> bool:
    return last_build(book / "built.json", name_of(book), book / "site") is not None


CHANGES: dict[str, Callable[[Path], object]] = {
    "a source": lambda book: (book / "own" / "air.md").write_text("two"),
    "a new source": lambda book: (book / "own" / "more.md").write_text(""),
    "a source gone": lambda book: (book / "own" / "air.md").unlink(),
    "a source renamed": lambda book: (book / "own" / "air.md").rename(book / "own" / "b.md"),
    "a page by hand": lambda book: (book / "docs" / "index.md").write_text("# Home"),
    "the configuration": lambda book: (book / "mkdocs.yml").write_text(PLAIN + "nav: []\n"),
    "a page of the site": lambda book: (book / "site" / "index.html").write_text("A page"),
    "a page of the site gone": lambda book: (book / "site" / "index.html").unlink(),
    "a file in the site": lambda book: (book / "site" / "notes.txt").write_text("mine"),
    "no mark": lambda book: (book / "site" / ".baybook-site").unlink(),
    "a cut record": lambda book: (book / "built.json").write_text('{"inputs":'),
    "a pipe": lambda book: os.mkfifo(book / "own" / "pipe.md"),
}


@pytest.mark.parametrize("what", CHANGES)
def test_after_a_change_the_book_is_built_again(book: Path, what: str) -> None:
    keep_build(book / "built.json", name_of(book), book / "site", "1 page")
    assert is_left_out(book)
    CHANGES[what](book)
    assert not is_left_out(book)


@pytest.mark.parametrize(
    "more",
    [
        "hooks: [own.py]\n",
        "markdown_extensions: [pymdownx.snippets]\n",
        "INHERIT: other.yml\n",
        "site_url: !ENV HOME\n",
        "  - search\n",
    ],
)
def test_where_others_have_a_say_it_is_always_built(book: Path, more: str) -> None:
    (book / "mkdocs.yml").write_text(PLAIN + more)
    assert inputs_of(book / "mkdocs.yml") == []
    (book / "mkdocs.yml").write_text(PLAIN.replace("material", "material, custom_dir: mine"))
    assert inputs_of(book / "mkdocs.yml") == []


def test_a_typeface_of_ones_own_is_an_input(book: Path) -> None:
    (book / "own.woff2").write_bytes(b"wOF2")
    (book / "mkdocs.yml").write_text(PLAIN.replace("own}", "own, typeface: own.woff2}"))
    before = name_of(book)
    (book / "own.woff2").write_bytes(b"wOF2.")
    assert name_of(book) != before


def test_a_build_that_is_not_known_is_kept_for_none(book: Path) -> None:
    keep_build(book / "built.json", name_of(book), book / "site", "1 page")
    keep_build(book / "built.json", "", book / "site", "1 page")
    assert not (book / "built.json").exists()
    assert content_name(book / "own") == ""
