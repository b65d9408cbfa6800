"""`baybook check`: all problems of all sources, or the JSON Schema of the sources."""

import json
from collections.abc import Sequence
from pathlib import Path

import click

from baybook.book.checks.check_book import check_book
from baybook.book.checks.check_gauges import check_gauges
from baybook.book.checks.check_isolation import check_isolation
from baybook.book.pint_quantities import unit_table_data
from baybook.book.schema import SOURCES, schema, write_schemas
from baybook.book.simulated import check_simulated
from baybook.book.sources.load import Book, load_book
from baybook.book.sources.problems import Problem
from baybook.verbs.folders import A_PATH, find_sources
from baybook.verbs.progress import working
from baybook.verbs.usage_error import OneOf, Verb
from baycalc import api


@click.command("check", cls=Verb, help="check the sources and print every problem")
@click.argument("folder", required=False, type=A_PATH)
@click.option("--strict", is_flag=True, help="a warning counts as an error")
@click.option(
    "--schema",
    "kind",
    type=OneOf(list(SOURCES)),
    is_flag=False,
    flag_value="procedure",
    metavar="[KIND]",
    help=f"print the JSON Schema of a source ({', '.join(SOURCES)}) and check nothing",
)
@click.option(
    "--schema-to", type=A_PATH, metavar="FOLDER", help="write the JSON Schemas and check nothing"
)
def command(folder: Path | None, strict: bool, kind: str | None, schema_to: Path | None) -> int:
    """Print all problems of all files; 1 where there are errors, else 0."""
    if schema_to:
        for path in write_schemas(schema_to):
            print(path)
        return 0
    if kind:
        print(json.dumps(schema(kind), indent=2))
        return 0
    folder = find_sources(folder).resolve()
    with working("checking the sources"):
        book, problems = check_folder(folder)
    for problem in problems:
        print(problem)
    print(summary(book, problems))
    bad = problems if strict else [each for each in problems if each.severity == "error"]
    return 1 if bad else 0


def check_folder(folder: Path) -> tuple[Book, list[Problem]]:
    """Read and check a folder of sources."""
    api.install(unit_table_data())
    book = load_book(folder)
    problems = check_book(book, {name: api.describe(name) for name in api.names()})
    if all(problem.severity == "warning" for problem in problems):
        more = [*check_isolation(book), *check_gauges(book), *check_simulated(book, folder)]
        problems = sorted([*problems, *more])
    return book, problems


def summary(book: Book, problems: Sequence[Problem]) -> str:
    """Write how much was checked, and how much is wrong."""
    errors = sum(problem.severity == "error" for problem in problems)
    procedures = len(book.procedure_names())
    vehicles = len(book.vehicles) + sum(name.startswith("vehicles/") for name in book.left_out)
    return (
        f"{count(procedures, 'procedure')}, {count(vehicles, 'vehicle')}: "
        f"{count(errors, 'error')}, {count(len(problems) - errors, 'warning')}"
    )


def count(number: int, what: str) -> str:
    """Write a number of things."""
    return f"{number} {what}" + ("" if number == 1 else "s")
