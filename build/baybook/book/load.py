"""Sources on disk into a book: every procedure and vehicle, with the place of each field."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from msgspec import Struct, structs

from baybook.book.convert import to_record
from baybook.book.model import Procedure, Shared, Vehicle
from baybook.book.problems import Problem
from baybook.book.read import Lines, read_yaml
from baybook.book.sections import Section, sections_of, text_before_sections

_ID = re.compile(r"[a-z][a-z0-9-]*")
_NEW_HINT = "`baybook new procedure NAME` writes a skeleton"


@dataclass(frozen=True, slots=True)
class ProcedureSource:
    """A procedure with where it came from."""

    id: str
    data: Procedure
    sections: tuple[Section, ...]
    lines: Lines
    before_sections: int = 0
    """Line of the first text that stands before any heading, or 0."""

    def section(self, name: str) -> Section | None:
        """Return the section of an id, or nothing."""
        return next((section for section in self.sections if section.id == name), None)

    def under(self, name: str) -> list[Section]:
        """Return the sections one level below the section of an id."""
        inside = False
        found = []
        for section in self.sections:
            if section.level == 2:
                inside = section.id == name
            elif inside and section.level == 3:
                found.append(section)
        return found


@dataclass(frozen=True, slots=True)
class VehicleSource:
    """A vehicle with where it came from."""

    id: str
    data: Vehicle
    lines: Lines


@dataclass(slots=True)
class Book:
    """Everything that was read, and what was wrong with it."""

    folder: str = ""
    shared: Shared = field(default_factory=Shared)
    shared_lines: Lines = field(default_factory=lambda: Lines("", 1))
    shared_texts: dict[str, str] = field(default_factory=dict)
    procedures: dict[str, ProcedureSource] = field(default_factory=dict)
    vehicles: dict[str, VehicleSource] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)
    left_out: set[str] = field(default_factory=set)
    """Sources that are there but could not be read, such as ``vehicles/car`` or ``shared``."""

    def vehicles_left_out(self) -> bool:
        """Tell whether a vehicle is there that could not be read."""
        return any(name.startswith("vehicles/") for name in self.left_out)

    def procedure_names(self) -> list[str]:
        """Return the ids of all procedures, readable or not."""
        return sorted(self.procedures.keys() | {n for n in self.left_out if "/" not in n})

    def shared_text_names(self) -> list[str]:
        """Return the names of all shared texts, readable or not."""
        left_out = {n.removeprefix("shared/") for n in self.left_out if n.startswith("shared/")}
        return sorted(self.shared_texts.keys() | left_out)

    def matches(self, procedure: ProcedureSource) -> list[VehicleSource]:
        """Return the vehicles that a procedure serves, by id."""
        wanted = procedure.data.vehicles
        return [
            vehicle
            for vehicle in self.vehicles.values()
            if set(wanted.needs) <= set(vehicle.data.has)
            and not set(wanted.without) & set(vehicle.data.has)
        ]


def load_book(folder: Path) -> Book:
    """Read all procedures (``*.md``), vehicles (``vehicles/*.yml``) and shared pieces of a folder.

    ``shared.yml`` holds tools, set-ups and safety messages; ``shared/*.md`` pieces of text.
    Mistakes are collected in ``Book.problems``; a source with a mistake is left out.
    """
    book = Book(folder.name)
    _load_shared(folder, book)
    for path in sorted((folder / "vehicles").glob("*.y*ml")):
        vehicle = _load_vehicle(path, folder, book)
        if vehicle:
            book.vehicles[vehicle.id] = vehicle
        else:
            book.left_out.add(f"vehicles/{path.stem}")
    found = sorted(folder.glob("*.md"))
    for path in found:
        procedure = _load_procedure(path, folder, book)
        if procedure:
            book.procedures[procedure.id] = procedure
        else:
            book.left_out.add(path.stem)
    if not found:
        text = "expected a folder with procedures (*.md), got none"
        book.problems.append(Problem(book.folder, 0, "", text, _NEW_HINT))
    return book


def _load_vehicle(path: Path, folder: Path, book: Book) -> VehicleSource | None:
    file = _shown(path, folder)
    text = _read_text(path, file, book.problems)
    if text is None or not _is_named_well(path, file, book.vehicles, book.problems):
        return None
    data, lines, found = read_yaml(text, file)
    vehicle = _typed(data, Vehicle, lines, found, book.problems)
    return None if vehicle is None else VehicleSource(path.stem, vehicle, lines)


def _is_named_well(
    path: Path, file: str, taken: Mapping[str, object], problems: list[Problem]
) -> bool:
    """Check that the file's name is an id, and no other file's."""
    if not _ID.fullmatch(path.stem):
        text = f"expected a file name of lower-case letters, digits and hyphens, got {path.name}"
        problems.append(Problem(file, 0, "", text, "the name of the file is its id"))
    elif path.stem in taken:
        text = f"expected one file of this name, got {path.name} beside another one"
        problems.append(Problem(file, 0, "", text, "rename one of the two"))
    else:
        return True
    return False


def _load_shared(folder: Path, book: Book) -> None:
    path = folder / "shared.yml"
    if path.exists():
        _load_shared_file(path, folder, book)
    for piece in sorted((folder / "shared").glob("*.md")):
        text = _read_text(piece, _shown(piece, folder), book.problems)
        if text is not None:
            book.shared_texts[piece.stem] = text
        else:
            book.left_out.add(f"shared/{piece.stem}")


def _load_shared_file(path: Path, folder: Path, book: Book) -> None:
    file = _shown(path, folder)
    text = _read_text(path, file, book.problems)
    shared = None
    if text is not None:
        data, book.shared_lines, found = read_yaml(text, file)
        shared = _typed(data, Shared, book.shared_lines, found, book.problems)
    if shared is None:
        book.left_out.add("shared")
    else:
        book.shared = shared


def _with_shared(procedure: Procedure, shared: Shared) -> Procedure:
    """Fill in the tools, set-ups and safety messages that a procedure uses by name."""
    tests = procedure.tests.values()
    tools = {name for test in tests for name in test.tools}
    tools |= {seen.gauge for test in tests for seen in test.observations.values() if seen.gauge}
    setups = {test.setup for test in tests if test.setup}
    messages = [shared.safety[name] for name in procedure.shared_safety if name in shared.safety]
    return structs.replace(
        procedure,
        tools={name: tool for name, tool in shared.tools.items() if name in tools}
        | procedure.tools,
        setups={name: setup for name, setup in shared.setups.items() if name in setups}
        | procedure.setups,
        safety=(*messages, *procedure.safety),
    )


def _load_procedure(path: Path, folder: Path, book: Book) -> ProcedureSource | None:
    problems = book.problems
    file = _shown(path, folder)
    text = _read_text(path, file, problems)
    if text is None or not _is_named_well(path, file, book.procedures, problems):
        return None
    parts = _split_front_matter(text)
    if parts is None:
        problems.append(
            Problem(
                file,
                1,
                "",
                "expected front matter between two lines of ---, got none",
                f"start the file with ---; {_NEW_HINT}",
            )
        )
        return None
    front, body, body_line = parts
    data, lines, found = read_yaml(front, file, first=2)
    procedure = _typed(data, Procedure, lines, found, problems)
    if procedure is None:
        return None
    return ProcedureSource(
        path.stem,
        _with_shared(procedure, book.shared),
        sections_of(body, body_line),
        lines,
        text_before_sections(body, body_line),
    )


def _typed[R: Struct](
    data: Any, record: type[R], lines: Lines, found: list[Problem], problems: list[Problem]
) -> R | None:
    problems += found
    if data is None:
        if not found:
            problems.append(lines.problem((), "expected fields, got nothing"))
        return None
    value, mistakes = to_record(data, record, lines)
    problems += mistakes
    return None if found else value


def _read_text(path: Path, file: str, problems: list[Problem]) -> str | None:
    try:
        raw = path.read_bytes()
    except OSError as error:
        text = f"expected a file that can be read, got {error.strerror}"
        problems.append(Problem(file, 0, "", text))
        return None
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        byte = f"byte 0x{raw[error.start]:02X}"
        problems.append(
            Problem(file, line, "", f"expected UTF-8 text, got {byte}", "save the file as UTF-8")
        )
        return None
    if not text.strip():
        problems.append(
            Problem(file, 1, "", "expected a source, got an empty file", "delete it or fill it")
        )
        return None
    return text.replace("\r\n", "\n")


def _split_front_matter(text: str) -> tuple[str, str, int] | None:
    match = re.match(r"---[ \t]*\n(.*?\n)?---[ \t]*(?:\n|$)", text, re.DOTALL)
    if not match:
        return None
    return match[1] or "", text[match.end() :], match[0].count("\n") + 1


def _shown(path: Path, folder: Path) -> str:
    return path.relative_to(folder.parent).as_posix()
