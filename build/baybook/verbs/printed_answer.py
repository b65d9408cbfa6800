"""Answers of calculators on a terminal."""

from collections.abc import Mapping, Sequence
from typing import Any

from rich.console import Console
from rich.table import Column, Table
from rich.text import Text

from baycalc.forms.declare import Calculator, Choice, Flag, Input, RecordInput, Result


def show_list(console: Console, calculators: Sequence[Calculator]) -> None:
    """Print what calculators there are."""
    table = Table("calculator", "what it computes", title="Calculators", title_justify="left")
    for calculator in calculators:
        table.add_row(Text(calculator.id), Text(calculator.summary))
    console.print(table)
    console.print("baybook calc NAME key=value ... computes; without keys, with the defaults.")


def show_answer(
    console: Console, calculator: Calculator, fields: Mapping[str, str], answer: Mapping[str, Any]
) -> None:
    """Print inputs, results in both unit systems, verdicts and notes."""
    console.print(Text(calculator.title, style="bold"))
    console.print(_inputs(calculator, fields))
    results = answer["results"]
    shown = [result for result in calculator.results if result.id in results]
    plain = [each for each in shown if each.kind not in ("verdict", "text") and not each.table]
    if plain:
        console.print(_both_systems(plain, results))
    for name in dict.fromkeys(each.table for each in shown if each.table):
        console.print(_all_units([each for each in shown if each.table == name], results))
    for result in shown:
        if result.kind == "text":
            console.print(Text(f"{result.label}: {results[result.id]['us']}"))
        elif result.kind == "verdict":
            _show_verdict(console, result, results[result.id])
    for note in answer["notes"]:
        signal = f"{note['signal'].upper()}: " if note["signal"] else ""
        console.print(Text(f"{signal}{note['text']}"))


def _inputs(calculator: Calculator, fields: Mapping[str, str]) -> Table:
    table = Table("input", "key", "value")
    values = {entry.id: _value(entry, fields) for entry in calculator.inputs}
    for entry in calculator.inputs:
        if entry.shown is None or values[entry.shown.choice] in entry.shown.values:
            default = "" if entry.id in fields else " (default)"
            table.add_row(Text(entry.label), Text(entry.id), Text(f"{values[entry.id]}{default}"))
    return table


def _value(entry: Input, fields: Mapping[str, str]) -> str:
    given = fields.get(entry.id)
    if isinstance(entry, RecordInput):
        return f"{len((given or entry.default).splitlines())} lines"
    if given is not None:
        return " ".join(filter(None, (given, fields.get(f"{entry.id}.unit"))))
    if isinstance(entry, Flag):
        return "yes" if entry.default else "no"
    if isinstance(entry, Choice):
        return entry.default
    return entry.default or "none"


def _both_systems(results: Sequence[Result], values: Mapping[str, Any]) -> Table:
    table = Table("result", "US", "metric")
    for result in results:
        value = values[result.id]
        table.add_row(Text(result.label), Text(value["us"]), Text(value["metric"]))
    return table


def _all_units(results: Sequence[Result], values: Mapping[str, Any]) -> Table:
    table = Table(*(Column(result.label) for result in results))
    for row in zip(*(values[result.id]["all"] for result in results), strict=True):
        table.add_row(*map(Text, row))
    return table


def _show_verdict(console: Console, result: Result, value: Mapping[str, Any]) -> None:
    console.print(Text(f"{result.label}: {value['outcome']}", style="bold"))
    for figures in dict.fromkeys((value["us"], value["metric"])):
        console.print(Text(f"  {figures}"))
    if value["advice"]:
        console.print(Text(f"  To settle it: {value['advice']}."))
