"""`baybook calc`: a calculator in the terminal."""

import json
import sys
from pathlib import Path
from typing import Any

import click
from rich.console import Console

from baybook.book.pint_quantities import unit_table_data
from baybook.book.sources.problems import close_match
from baybook.verbs.printed_answer import show_answer, show_list
from baybook.verbs.usage_error import Misused, Verb
from baycalc import api
from baycalc.forms.declare import Calculator, Flag, Quantity

_FLAGS = ("yes", "no", "true", "false", "on", "off", "1", "0")


@click.command(
    "calc",
    cls=Verb,
    help="compute with a calculator, such as: calc vacuum_units reading='20 inHg'",
)
@click.argument("name", required=False)
@click.argument("words", nargs=-1, metavar="[KEY=VALUE]...")
@click.option("--json", "as_json", is_flag=True, help="print the answer as JSON")
def command(name: str | None, words: tuple[str, ...], as_json: bool) -> int:
    """Print an answer, or what is wrong with each field; without a name, all calculators."""
    api.install(unit_table_data())
    console = Console(highlight=False, soft_wrap=False)
    if name is None:
        show_list(console, [api.describe(name) for name in api.names()])
        return 0
    if name not in api.names():
        hint = close_match(name, api.names()) or "`baybook calc` lists them"
        raise Misused(f"expected a calculator, got {name}", hint)
    calculator = api.describe(name)
    fields = _read_words(calculator, words)
    answer = api.run(name, fields)
    if as_json:
        print(json.dumps(answer, ensure_ascii=False, indent=2))
    elif not answer["errors"]:
        show_answer(console, calculator, fields, answer)
    return _complain(answer)


def _complain(answer: dict[str, Any]) -> int:
    for name, sentence in answer["errors"].items():
        print(f"{name}: {sentence}" if name else sentence, file=sys.stderr)
    return 1 if answer["errors"] else 0


def _read_words(calculator: Calculator, words: tuple[str, ...]) -> dict[str, str]:
    """Split ``key=value`` words; every key must be an input of the calculator."""
    fields: dict[str, str] = {}
    for word in words:
        key, equals, value = word.partition("=")
        if not equals:
            raise Misused(f"expected key=value, got {word}", _quotes_hint(words))
        if key in fields:
            raise Misused(f"expected {key} once, got it again")
        _check_key(calculator, key, value)
        fields[key] = _read_file(value[1:]) if value.startswith("@") else value
    return fields


def _read_file(path: str) -> str:
    """Return a record out of a file: `record=@FILE`."""
    try:
        return Path(path).read_text(encoding="utf-8", errors="replace")
    except OSError as problem:
        raise Misused(f"expected a file that can be read, got {path}: {problem.strerror}") from None


def _quotes_hint(words: tuple[str, ...]) -> str:
    return 'a value with a space needs quotes, such as reading="20 inHg"' if len(words) > 1 else ""


def _check_key(calculator: Calculator, key: str, value: str) -> None:
    inputs = {entry.id: entry for entry in calculator.inputs}
    units = {f"{entry.id}.unit" for entry in calculator.inputs if isinstance(entry, Quantity)}
    if key not in inputs.keys() | units:
        hint = close_match(key, inputs) or f"its inputs are {', '.join(inputs)}"
        raise Misused(f"expected an input of {calculator.id}, got {key}", hint)
    if isinstance(inputs.get(key), Flag) and value not in _FLAGS:
        raise Misused(f"expected yes or no for {key}, got {value}")
