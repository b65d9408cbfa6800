"""`baybook new`: a skeleton of a procedure, a vehicle or a whole book, to be filled in."""

import re
from pathlib import Path

import click

from baybook.book.checks.check_vehicle import check_vehicle
from baybook.book.pint_quantities import unit_table_data
from baybook.book.sources.load import vehicle_in
from baybook.book.sources.problem_report import Report
from baybook.book.sources.problems import BadSources, Problem
from baybook.verbs.configuration import SOURCES
from baybook.verbs.folders import A_PATH, CONFIG, sources_named
from baybook.verbs.usage_error import Misused, OneOf, Verb
from baycalc import api

_SKELETONS = Path(__file__).parent.parent / "skeletons"
_ONE = ("procedure.md", "vehicle.yml")
_BOOK = {
    "book/mkdocs.yml": CONFIG,
    "book/gitignore": ".gitignore",
    "book/index.md": "docs/index.md",
    "book/shared.yml": "procedures/shared.yml",
    "vehicle.yml": "procedures/vehicles/first-car.yml",
    "procedure.md": "procedures/first-procedure.md",
}
"""The files of a new book, by their skeletons."""

_ID = re.compile(r"[a-z][a-z0-9-]*")


@click.command("new", cls=Verb, help="write the skeleton of a procedure, a vehicle or a whole book")
@click.argument("what", type=OneOf(["procedure", "vehicle", "book"]), metavar="WHAT")
@click.argument("name", metavar="NAME")
@click.option(
    "--folder", type=A_PATH, help=f"folder of the sources (default: as {CONFIG} says, {SOURCES})"
)
@click.option(
    "--from",
    "given",
    type=A_PATH,
    help="a vehicle file that a reader has saved: checked, and put into the book as it is",
)
def command(what: str, name: str, folder: Path | None, given: Path | None) -> int:
    """Write the skeleton of WHAT (procedure, vehicle or book); no file is ever touched.

    NAME is its id, such as air-pump: the name of the file; the folder of a book.
    """
    if given and what != "vehicle":
        raise Misused(f"expected no --from with a {what}", "it takes a vehicle's file")
    if what == "book":
        return _new_book(Path(name), folder)
    if not _ID.fullmatch(name):
        raise Misused(
            f"expected a name of lower-case letters, digits and hyphens, got {name}",
            f"such as {_suggested(name)}",
        )
    folder = folder or sources_named(Path())
    path = _path(folder, what, name)
    if given:
        return _take_vehicle(given, path)
    _write_skeleton(f"{what}{path.suffix}", path, name)
    print(f"wrote {path}\n{_next_step(folder, what)}")
    return 0


def _take_vehicle(given: Path, path: Path) -> int:
    """Put a vehicle's file into the book, once nothing in it is wrong.

    Raises
    ------
    BadSources
        With every mistake of the file.
    """
    if not given.is_file():
        raise Misused(f"expected a vehicle's file, got {given}, which is not there")
    api.install(unit_table_data())
    problems: list[Problem] = []
    vehicle = vehicle_in(given, problems)
    if vehicle:
        check_vehicle(vehicle, Report(vehicle.lines, problems))
    if mistakes := [problem for problem in problems if problem.severity == "error"]:
        raise BadSources(mistakes)
    _write_new(path, given.read_text(encoding="utf-8"))
    print(f"wrote {path}\nnext: run baybook check")
    return 0


def _new_book(folder: Path, sources: Path | None) -> int:
    """Write a small book that works: a configuration, a home page, a procedure and a car."""
    if sources:
        raise Misused("expected no --folder with a book", f"it goes into {folder / SOURCES}")
    if folder.is_file() or (folder.is_dir() and any(folder.iterdir())):
        raise Misused(f"expected a new folder, got {folder}, which is not empty", "choose another")
    name = folder.resolve().name
    for skeleton, place in _BOOK.items():
        _write_skeleton(skeleton, folder / place, Path(place).stem if skeleton in _ONE else name)
    print(f"wrote {len(_BOOK)} files into {folder}\nnext: go there, and run baybook serve")
    return 0


def _write_skeleton(skeleton: str, path: Path, name: str) -> None:
    text = (_SKELETONS / skeleton).read_text(encoding="utf-8")
    title = re.sub(r"[^\w]+|_", " ", name).strip().capitalize()
    _write_new(path, text.replace("TITLE", title))


def _suggested(name: str) -> str:
    return re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-0123456789") or "air-pump"


def _path(folder: Path, what: str, name: str) -> Path:
    return folder / f"{name}.md" if what == "procedure" else folder / "vehicles" / f"{name}.yml"


def _write_new(path: Path, text: str) -> None:
    if path.exists():
        raise Misused(f"expected a new name, got {path}, which exists", "choose another")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with path.open("x", encoding="utf-8") as file:
            file.write(text)
    except OSError as error:
        raise Misused(f"cannot write {path}: {error.strerror}") from error


def _next_step(folder: Path, what: str) -> str:
    if what == "procedure" and not any((folder / "vehicles").glob("*.y*ml")):
        return "next: a book needs a vehicle too: baybook new vehicle NAME"
    return "next: fill it in, and run baybook check"
