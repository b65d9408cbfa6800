"""Sources on disk into a book: every procedure and vehicle, with the place of each field."""

import re
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from msgspec import Struct, structs

from baybook.book.model import Procedure, Shared, Vehicle
from baybook.book.problems import Problem
from baybook.book.read import Lines, read_yaml, to_record

_HEADING = re.compile(r"^(#{2,4})\s+(.*?)(?:\s*\{#([a-z0-9-]+)\})?\s*$")
_FENCE = re.compile(r"^(```|~~~)")


@dataclass(frozen=True, slots=True)
class Section:
    """One section of a procedure's body: its heading and the text up to the next one."""

    id: str
    title: str
    level: int
    line: int
    text: str


@dataclass(frozen=True, slots=True)
class ProcedureSource:
    """A procedure with where it came from."""

    id: str
    data: Procedure
    sections: tuple[Section, ...]
    lines: Lines

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
            elif inside:
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

    shared: Shared = field(default_factory=Shared)
    shared_lines: Lines = field(default_factory=lambda: Lines("", 1))
    shared_texts: dict[str, str] = field(default_factory=dict)
    procedures: dict[str, ProcedureSource] = field(default_factory=dict)
    vehicles: dict[str, VehicleSource] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)

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
    book = Book()
    _load_shared(folder, book)
    for path in sorted((folder / "vehicles").glob("*.y*ml")):
        vehicle = _load_vehicle(path, folder, book.problems)
        if vehicle:
            book.vehicles[vehicle.id] = vehicle
    for path in sorted(folder.glob("*.md")):
        procedure = _load_procedure(path, folder, book)
        if procedure:
            book.procedures[procedure.id] = procedure
    return book


def _load_vehicle(path: Path, folder: Path, problems: list[Problem]) -> VehicleSource | None:
    file = _shown(path, folder)
    text = _read_text(path, file, problems)
    if text is None:
        return None
    data, lines, found = read_yaml(text, file)
    vehicle = _typed(data, Vehicle, lines, found, problems)
    return None if vehicle is None else VehicleSource(path.stem, vehicle, lines)


def _load_shared(folder: Path, book: Book) -> None:
    path = folder / "shared.yml"
    if path.exists():
        file = _shown(path, folder)
        text = _read_text(path, file, book.problems)
        if text is not None:
            data, book.shared_lines, found = read_yaml(text, file)
            shared = _typed(data, Shared, book.shared_lines, found, book.problems)
            book.shared = shared or book.shared
    for piece in sorted((folder / "shared").glob("*.md")):
        text = _read_text(piece, _shown(piece, folder), book.problems)
        if text is not None:
            book.shared_texts[piece.stem] = text


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
    if text is None:
        return None
    parts = _split_front_matter(text)
    if parts is None:
        problems.append(
            Problem(
                file,
                1,
                "",
                "expected front matter between two lines of ---, got none",
                "start the file with ---; `baybook new procedure` writes a skeleton",
            )
        )
        return None
    front, body, body_line = parts
    data, lines, found = read_yaml(front, file, first=2)
    procedure = _typed(data, Procedure, lines, found, problems)
    sections = tuple(_sections(body, body_line))
    if procedure is None:
        return None
    return ProcedureSource(path.stem, _with_shared(procedure, book.shared), sections, lines)


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
    raw = path.read_bytes()
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


def _sections(body: str, first_line: int) -> list[Section]:
    found: list[tuple[re.Match[str], int]] = []
    fenced = False
    all_lines = body.split("\n")
    for number, line in enumerate(all_lines):
        fenced ^= bool(_FENCE.match(line))
        heading = None if fenced else _HEADING.match(line)
        if heading:
            found.append((heading, number))
    ends = [number for _, number in found[1:]] + [len(all_lines)]
    return [
        Section(
            id=heading[3] or "",
            title=heading[2],
            level=len(heading[1]),
            line=first_line + number,
            text="\n".join(all_lines[number + 1 : end]).strip("\n"),
        )
        for (heading, number), end in zip(found, ends, strict=True)
    ]


def _shown(path: Path, folder: Path) -> str:
    return path.relative_to(folder.parent).as_posix()
