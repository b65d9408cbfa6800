"""Whether a built book is what its inputs would make again, so that a build has nothing to do."""

import hashlib
import json
import os
import sys
from collections.abc import Iterable, Iterator
from dataclasses import asdict, dataclass
from pathlib import Path

import baybook
import baycalc
from baybook.output.site_folder import MARK, foreign_files

RECORD = Path(".cache", "baybook", "built.json")
"""What the last build of a book was made of, beside its configuration."""


@dataclass(frozen=True, slots=True)
class LastBuild:
    """What a build was made of, and what it made."""

    inputs: str
    """Name of all inputs; see `inputs_name`."""

    site: str
    """Its folder."""

    content: str
    """Name of all files of the site; see `content_name`."""

    said: str
    """What was said of its size."""


def inputs_name(places: Iterable[Path], more: Iterable[str] = ()) -> str:
    """Return a name that changes with every input of a build; nothing where one cannot be read.

    Parameters
    ----------
    places : Iterable[Path]
        Files and folders of the book.
    more : Iterable[str]
        What else the book depends on.
    """
    programs = [Path(package.__path__[0]) for package in (baybook, baycalc)]
    words = [sys.version, os.environ.get("SOURCE_DATE_EPOCH", ""), *_installed(), *more]
    digest = hashlib.sha256(json.dumps(words).encode())
    try:
        for place in (*places, *programs):
            digest.update(_name_of(place).encode())
    except OSError:
        return ""
    return digest.hexdigest()


def _installed() -> list[str]:
    """Return the packages that Python finds, each with its version, as their folders are named."""
    folders = [Path(place) for place in sys.path if Path(place).is_dir()]
    return sorted(found.name for folder in folders for found in folder.glob("*.dist-info"))


def content_name(site: Path) -> str:
    """Return a name that changes with every file of a built site; nothing where it is none."""
    try:
        return _name_of(site) if (site / MARK).is_file() and not foreign_files(site) else ""
    except OSError:
        return ""


def _name_of(place: Path) -> str:
    """Return a name for a file, or for all files of a folder."""
    digest = hashlib.sha256()
    for path in sorted(_files(place)):
        if not path.is_file():
            raise OSError(f"expected a file, got {path}")
        with path.open("rb") as file:
            content = hashlib.file_digest(file, "sha256").hexdigest()
        digest.update(f"{path.relative_to(place)}\0{content}\n".encode())
    return digest.hexdigest()


def _files(place: Path) -> Iterator[Path]:
    if not place.is_dir():
        yield place
        return
    seen = set()
    for folder, below, names in os.walk(place, followlinks=True):
        real = os.path.realpath(folder)
        if real in seen or Path(folder).name == "__pycache__":
            below.clear()
            continue
        seen.add(real)
        yield from (Path(folder) / name for name in names)


def last_build(record: Path, inputs: str, site: Path) -> LastBuild | None:
    """Return the last build where another one would make the same site in the same place."""
    try:
        last = LastBuild(**json.loads(record.read_text("utf-8")))
    except (OSError, ValueError, TypeError):
        return None
    same = inputs and last.inputs == inputs and last.site == str(site.resolve())
    return last if same and last.content == content_name(site) else None


def keep_build(record: Path, inputs: str, site: Path, said: str) -> None:
    """Keep what a build was made of; nothing where that is not known."""
    content = content_name(site)
    if not inputs or not content:
        record.unlink(missing_ok=True)
        return
    record.parent.mkdir(parents=True, exist_ok=True)
    part = record.with_suffix(f".{os.getpid()}.part")
    last = LastBuild(inputs, str(site.resolve()), content, said)
    part.write_text(json.dumps(asdict(last)), "utf-8")
    part.replace(record)
