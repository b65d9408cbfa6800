"""Every file below the sources: what it is, or a warning that it is nothing."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from baybook.book.sources.problems import Problem
from baybook.book.sources.source_files import shown

PICTURES = (".png", ".jpg", ".jpeg", ".webp", ".gif", ".svg", ".avif")
"""Endings of files that a text can show."""

ATTACHMENTS = (".pdf", ".mp4", ".webm", ".vtt", ".csv", ".xlsx", ".zip", ".txt")
"""Endings of files that a text can offer or play."""

_OURS = ("simulated.json", "learned.json", "exercises.json")
_OTHERS = ("thumbs.db", "desktop.ini")
_LEFTOVERS = (".bak", ".swp", ".tmp", ".orig")


@dataclass(slots=True)
class Found:
    """The files below a folder of sources, each kind sorted by place."""

    procedures: list[Path] = field(default_factory=list)
    vehicles: list[Path] = field(default_factory=list)
    texts: list[Path] = field(default_factory=list)
    files: list[Path] = field(default_factory=list)
    """Pictures and attachments."""
    problems: list[Problem] = field(default_factory=list)


def walk(folder: Path) -> Found:
    """Sort every file below the sources; hidden ones, editors' copies and READMEs are let be."""
    found = Found()
    for path in _files(folder, folder, found.problems) if folder.is_dir() else ():
        place = path.relative_to(folder)
        room = place.parts[0] if len(place.parts) > 1 else ""
        ending = path.suffix.lower()
        if place.as_posix() == "shared.yml" or path.name in _OURS or _is_schema(path):
            continue
        if room == "vehicles" and ending in (".yml", ".yaml"):
            found.vehicles.append(path)
        elif room == "shared" and path.suffix == ".md":
            found.texts.append(path)
        elif room != "vehicles" and path.suffix == ".md":
            found.procedures.append(path)
        elif ending in PICTURES or ending in ATTACHMENTS:
            found.files.append(path)
        else:
            found.problems.append(_stray(path, folder))
    return found


def _files(folder: Path, top: Path, problems: list[Problem]) -> Iterator[Path]:
    for path in sorted(folder.iterdir()):
        if _is_let_be(path.name):
            continue
        if path.is_dir() and path.suffix not in (".md", ".yml", ".yaml"):
            if path.is_symlink():
                text = "expected a folder, got a link to one, which is not followed"
                problems.append(Problem(shown(path, top), 0, "", text, "", "warning"))
            else:
                yield from _files(path, top, problems)
        else:
            yield path


def _is_let_be(name: str) -> bool:
    plain = name.lower()
    return (
        plain.startswith((".", "~", "#", "readme"))
        or plain.endswith(("~", *_LEFTOVERS))
        or plain in _OTHERS
    )


def _is_schema(path: Path) -> bool:
    return path.name.endswith(".schema.json")


def _stray(path: Path, folder: Path) -> Problem:
    what = f"expected a procedure, a vehicle or a file that a text shows, got {path.name}"
    return Problem(shown(path, folder), 0, "", what, _stray_hint(path, folder), "warning")


def _stray_hint(path: Path, folder: Path) -> str:
    ending = path.suffix.lower()
    if ending in (".yml", ".yaml"):
        return (
            f"vehicles stand in {folder.name}/vehicles; what all share is {folder.name}/shared.yml"
        )
    if ending in (".markdown", ".mdown"):
        return f"rename it to {path.stem}.md"
    if ending == ".md":
        return f"procedures stand in {folder.name}, or in a folder there beside vehicles"
    return "move it out of the sources, or let its name begin with a dot"
