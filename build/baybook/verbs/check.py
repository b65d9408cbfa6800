"""`baybook check`: all problems of all sources."""

import argparse
from pathlib import Path

from baybook.book.check import check_book
from baybook.book.load import load_book
from baybook.book.quantities import unit_table_data
from baycalc import door

HELP = "check the sources and print every problem"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare what the verb takes."""
    parser.add_argument("folder", nargs="?", default="procedures", type=Path)
    parser.add_argument("--strict", action="store_true", help="a warning counts as an error")


def run(args: argparse.Namespace) -> int:
    """Print all problems of all files; 1 where there are errors, else 0."""
    folder = args.folder
    door.install(unit_table_data())
    calculators = {name: door.describe(name) for name in door.names()}
    book = load_book(folder.resolve())
    problems = check_book(book, calculators)
    for problem in problems:
        print(problem)
    errors = sum(problem.severity == "error" for problem in problems)
    warnings = len(problems) - errors
    print(
        f"{len(book.procedures)} procedures, {len(book.vehicles)} vehicles: "
        f"{errors} errors, {warnings} warnings"
    )
    return 1 if errors or (args.strict and warnings) else 0
