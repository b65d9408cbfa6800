"""Files of sources as text, and front matter apart from body."""

import re
from pathlib import Path

from baybook.book.bounds import LARGEST_SOURCE
from baybook.book.sources.problems import Problem

NEW_HINT = "`baybook new procedure NAME` writes a skeleton"
_ID = re.compile(r"[a-z][a-z0-9-]*")


def shown(path: Path, folder: Path) -> str:
    """Return a file's name as problems show it, beginning with the folder of the sources."""
    return path.relative_to(folder.parent).as_posix()


def read_text(path: Path, folder: Path, problems: list[Problem]) -> str | None:
    """Return the text of a source, or report why there is none."""
    file = shown(path, folder)
    text = _decoded(path, file, problems)
    if text is None:
        return None
    if not _ID.fullmatch(path.stem):
        what = f"expected a file name of lower-case letters, digits and hyphens, got {path.name}"
        problems.append(Problem(file, 0, "", what, "the name of the file is its id"))
        return None
    if path.stem == "index" and path.parent.name != "shared":
        what = f"expected a file name other than index, got {path.name}"
        problems.append(Problem(file, 0, "", what, "the first page of a group has this name"))
        return None
    if not text.strip():
        what = "expected a source, got an empty file"
        problems.append(Problem(file, 1, "", what, "delete it or fill it"))
        return None
    return text.replace("\r\n", "\n")


def _decoded(path: Path, file: str, problems: list[Problem]) -> str | None:
    try:
        # A pipe or a device would be read for ever.
        if path.exists() and not path.is_file() and not path.is_dir():
            what = "expected a file that can be read, got a pipe or a device"
            problems.append(Problem(file, 0, "", what))
            return None
        raw = path.read_bytes()
    except OSError as error:
        what = f"expected a file that can be read, got {error.strerror}"
        problems.append(Problem(file, 0, "", what))
        return None
    if len(raw) > LARGEST_SOURCE:
        what = f"expected a source of at most {LARGEST_SOURCE:,} bytes, got {len(raw):,}"
        problems.append(Problem(file, 0, "", what))
        return None
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        what = f"expected UTF-8 text, got byte 0x{raw[error.start]:02X}"
        problems.append(Problem(file, line, "", what, "save the file as UTF-8"))
        return None


def split_front_matter(
    text: str, file: str, problems: list[Problem]
) -> tuple[str, str, int] | None:
    """Return front matter, body and the body's first line, or report that there are not both."""
    match = re.match(r"---[ \t]*\n(.*?\n)?---[ \t]*(?:\n|$)", text, re.DOTALL)
    if match:
        return match[1] or "", text[match.end() :], match[0].count("\n") + 1
    got = "only the first" if text.startswith("---") else "none"
    what = f"expected front matter between two lines of ---, got {got}"
    problems.append(Problem(file, 1, "", what, _almost(text) or NEW_HINT))
    return None


_ALMOST = re.compile(r"[-–—]{1,9}\s*")


def _almost(text: str) -> str:
    """Name the line that was most likely meant as the second one of three hyphens."""
    for number, line in enumerate(text.split("\n"), 1):
        if line.startswith("#") and number > 1:
            return ""
        if _ALMOST.fullmatch(line) and line.strip() != "---":
            return f"line {number} is {line.strip()}: write three hyphens"
    return ""
