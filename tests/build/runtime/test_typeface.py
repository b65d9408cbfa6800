"""The typeface of the book: carried as data, another, or none."""

import base64
import re
from pathlib import Path

import pytest

from baybook.runtime.errors import RuntimeBuildError
from baybook.runtime.typeface import CARRIED, PACKAGE, carried_typeface, chosen_typeface


def test_every_font_file_is_inside_and_none_is_named(modules: Path) -> None:
    text = carried_typeface(modules / PACKAGE)
    files = re.findall(r"url\(data:font/woff2;base64,([^)]*)\)", text)
    assert [base64.b64decode(file)[:4] for file in files] == [b"wOF2"] * 3
    assert len(re.findall(r"url\(", text)) == 3
    assert "SIL Open Font License" in text


def test_an_author_can_choose_another_or_none(tmp_path: Path) -> None:
    (tmp_path / "own.woff2").write_bytes(b"wOF2 and more")
    assert chosen_typeface(CARRIED, tmp_path, "the carried one") == "the carried one"
    assert chosen_typeface("none", tmp_path, "the carried one") == ""
    assert base64.b64encode(b"wOF2 and more").decode() in chosen_typeface("own.woff2", tmp_path, "")


@pytest.mark.parametrize("choice", ["missing.woff2", "Arial", "text.woff2"])
def test_what_is_no_font_is_refused(tmp_path: Path, choice: str) -> None:
    (tmp_path / "text.woff2").write_text("no font")
    with pytest.raises(RuntimeBuildError, match=f"got '{choice}'"):
        chosen_typeface(choice, tmp_path, "")
