"""Sources on disk into a book: every procedure and vehicle, with the place of each field."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from msgspec import Struct, structs

from baybook.book.codes import title
from baybook.book.source_model import SYSTEMS, OpeningStep, Procedure, Shared, Vehicle
from baybook.book.sources.convert import to_record
from baybook.book.sources.problems import Problem
from baybook.book.sources.read import Lines, read_yaml
from baybook.book.sources.sections import Section, sections_of, text_before_sections
from baybook.book.sources.source_files import NEW_HINT, read_text, shown, split_front_matter
from baybook.book.sources.walk import walk


@dataclass(frozen=True, slots=True)
class ProcedureSource:
    """A procedure with where it came from."""

    id: str
    data: Procedure
    sections: tuple[Section, ...]
    lines: Lines
    codes_need: dict[str, tuple[str, ...]] = field(default_factory=dict)
    """Equipment without which a vehicle cannot store a code."""
    suppresses: dict[str, tuple[str, ...]] = field(default_factory=dict)
    """For a code the codes that are not set while it is."""
    opening: dict[str, OpeningStep] = field(default_factory=dict)
    """Steps at the start of every job."""
    before_sections: int = 0
    """Line of the first text that stands before any heading, or 0."""
    shared: Shared = field(default_factory=Shared)
    """What all procedures of the book share."""

    @property
    def system(self) -> str:
        """The title of its system."""
        name = self.data.system
        return self.shared.systems.get(name) or SYSTEMS[name]

    def code_title(self, code: str) -> str:
        """Return the title of a code as this procedure, the book or SAE J2012 gives it."""
        entry = self.shared.codes.get(code)
        return self.data.code_titles.get(code) or (entry.title if entry else "") or title(code)

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
    shared_text_files: dict[str, str] = field(default_factory=dict)
    """Where each shared text stands, as problems show it."""
    files: dict[str, Path] = field(default_factory=dict)
    """Pictures and attachments, by their place in the folder of the sources."""
    procedures: dict[str, ProcedureSource] = field(default_factory=dict)
    vehicles: dict[str, VehicleSource] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)
    drafts: dict[str, ProcedureSource] = field(default_factory=dict)
    """Procedures with mistakes of form: checked as far as they can be read, never built."""
    draft_vehicles: dict[str, VehicleSource] = field(default_factory=dict)
    left_out: set[str] = field(default_factory=set)
    """Sources that are there but could not be read, such as ``vehicles/car`` or ``shared``."""

    def vehicles_left_out(self) -> bool:
        """Tell whether a vehicle is there that could not be read."""
        return any(name.startswith("vehicles/") for name in self.left_out)

    def procedure_names(self) -> list[str]:
        """Return the ids of all procedures, readable or not."""
        return sorted(
            self.procedures.keys()
            | {n for n in self.left_out if not n.endswith(".yml") and "/" not in n}
        )

    def code_title(self, code: str) -> str:
        """Return the title of a code as the procedures that list it give it."""
        titles = [each.code_title(code) for each in self.procedures.values()]
        return next(filter(None, titles), "")

    def shared_text_names(self) -> list[str]:
        """Return the names of all shared texts, readable or not."""
        left_out = {n.removeprefix("shared/") for n in self.left_out if n.startswith("shared/")}
        return sorted(self.shared_texts.keys() | left_out)

    def matches(self, procedure: ProcedureSource) -> list[VehicleSource]:
        """Return the vehicles that a procedure serves, by id."""
        wanted = procedure.data.vehicles
        return [each for each in self.vehicles.values() if wanted.fits(each.data.has)]


def load_book(folder: Path) -> Book:
    """Read all procedures (``*.md``), vehicles (``vehicles/*.yml``) and shared pieces of a folder.

    ``shared.yml`` holds tools, set-ups and safety messages; ``shared/*.md`` pieces of text. All of
    them may stand in folders below. Mistakes are collected in ``Book.problems``; a source with
    one is a draft, or left out.
    """
    book = Book(folder.name)
    found = walk(folder)
    book.problems += found.problems
    book.files = {path.relative_to(folder).as_posix(): path for path in found.files}
    _load_shared(folder, found.texts, book)
    for path in _once(found.vehicles, folder, book.problems):
        vehicle = _load_vehicle(path, folder, book.problems)
        if vehicle and not vehicle.lines.broken:
            book.vehicles[vehicle.id] = vehicle
            continue
        book.left_out.add(f"vehicles/{path.stem}")
        if vehicle:
            book.draft_vehicles[vehicle.id] = vehicle
    for path in _once(found.procedures, folder, book.problems):
        procedure = _load_procedure(path, folder, book)
        if procedure and not procedure.lines.broken:
            book.procedures[procedure.id] = procedure
            continue
        book.left_out.add(path.stem)
        if procedure:
            book.drafts[procedure.id] = procedure
    if not found.procedures:
        text = "expected a folder with procedures (*.md), got none"
        book.problems.append(Problem(book.folder, 0, "", text, NEW_HINT))
    return book


def _once(paths: list[Path], folder: Path, problems: list[Problem]) -> Iterator[Path]:
    """Give the files whose name is not that of one before: the name is the id."""
    first: dict[str, Path] = {}
    for path in paths:
        other = first.setdefault(path.stem, path)
        if other is path:
            yield path
            continue
        text = f"expected one file of this name, got {path.name} beside another one"
        hint = "rename one of the two" + (
            "" if other.parent == path.parent else f"; the other is {shown(other, folder)}"
        )
        problems.append(Problem(shown(path, folder), 0, "", text, hint))


def vehicle_in(path: Path, problems: list[Problem]) -> VehicleSource | None:
    """Read one vehicle file wherever it lies, such as one that a reader has saved."""
    return _load_vehicle(path, path.parent.parent, problems)


def _load_vehicle(path: Path, folder: Path, problems: list[Problem]) -> VehicleSource | None:
    text = read_text(path, folder, problems)
    if text is None:
        return None
    vehicle, lines = _typed(text, shown(path, folder), 1, Vehicle, problems)
    return None if vehicle is None else VehicleSource(path.stem, vehicle, lines)


def _load_shared(folder: Path, texts: list[Path], book: Book) -> None:
    path = folder / "shared.yml"
    if path.exists():
        _load_shared_file(path, folder, book)
    for piece in _once(texts, folder, book.problems):
        text = read_text(piece, folder, book.problems)
        if text is None:
            book.left_out.add(f"shared/{piece.stem}")
        else:
            book.shared_texts[piece.stem] = text
            book.shared_text_files[piece.stem] = shown(piece, folder)


def _load_shared_file(path: Path, folder: Path, book: Book) -> None:
    text = read_text(path, folder, book.problems)
    shared = None
    if text is not None:
        shared, book.shared_lines = _typed(text, shown(path, folder), 1, Shared, book.problems)
    book.shared = shared or book.shared
    if shared is None or book.shared_lines.broken:
        book.left_out.add("shared.yml")


def _load_procedure(path: Path, folder: Path, book: Book) -> ProcedureSource | None:
    text = read_text(path, folder, book.problems)
    if text is None:
        return None
    file = shown(path, folder)
    parts = split_front_matter(text, file, book.problems)
    if parts is None:
        return None
    front, body, body_line = parts
    procedure, lines = _typed(front, file, 2, Procedure, book.problems)
    if procedure is None:
        return None
    return ProcedureSource(
        path.stem,
        _with_shared(procedure, book.shared),
        sections_of(body, body_line),
        lines,
        book.shared.codes_need,
        {code: entry.suppresses for code, entry in book.shared.codes.items()},
        book.shared.opening,
        text_before_sections(body, body_line),
        book.shared,
    )


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


def _typed[R: Struct](
    text: str, file: str, first_line: int, record: type[R], problems: list[Problem]
) -> tuple[R | None, Lines]:
    data, lines, found = read_yaml(text, file, first_line)
    problems += found
    if data is None:
        if not found:
            problems.append(lines.problem((), "expected fields, got nothing"))
        return None, lines
    value, mistakes = to_record(data, record, lines)
    problems += mistakes
    return value, lines
