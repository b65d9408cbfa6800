"""`baybook check`: all problems of all sources, or the JSON Schema of the sources."""

import json
from dataclasses import replace
from pathlib import Path

import click

from baybook.book.checks.check_wording import check_wording
from baybook.book.compiled import compile_book
from baybook.book.goals_of_plans import plan_lines
from baybook.book.schema import SOURCES, schema, write_schemas
from baybook.verbs.folders import A_PATH, find_sources
from baybook.verbs.progress import working
from baybook.verbs.usage_error import OneOf, Verb


@click.command("check", cls=Verb, help="check the sources and print every problem")
@click.argument("folder", required=False, type=A_PATH)
@click.option("--strict", is_flag=True, help="a warning counts as an error")
@click.option("--plans", is_flag=True, help="print how the plans begin and what they cost")
@click.option("--no-wording", is_flag=True, help="say nothing of sentences and words")
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
def command(
    folder: Path | None,
    strict: bool,
    plans: bool,
    no_wording: bool,
    kind: str | None,
    schema_to: Path | None,
) -> int:
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
        compiled = compile_book(folder)
        wording = () if no_wording or compiled.errors else check_wording(compiled.sources)
    compiled = replace(compiled, problems=tuple(sorted([*compiled.problems, *wording])))
    for problem in compiled.problems:
        print(problem)
    if plans and not compiled.errors:
        print(*plan_lines(compiled.bound), sep="\n")
    print(compiled.summary())
    return 1 if compiled.errors or (strict and compiled.problems) else 0
