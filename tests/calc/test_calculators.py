"""What holds for every calculator: declaration, defaults, examples, links."""

import inspect
import json
import math
import re
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
from tests.calculator_examples import EXAMPLES

from baybook.book.pint_quantities import unit_table_data
from baycalc import api
from baycalc.forms.declare import Calculator, Choice, Flag, Quantity, Text
from baycalc.forms.groups import GROUPS, OPEN_GROUPS, USUAL_GROUP
from baycalc.measurement.decision import Verdict
from baycalc.quantities import units

api.install(unit_table_data())
CALCULATORS = [api.describe(name) for name in api.names()]
CASES = [(each.id, fields) for each in CALCULATORS for fields in EXAMPLES[each.id]]
LEAST_EXAMPLES = 10
SIGNALS = ("", "danger", "warning", "caution", "notice")
STANDINGS = ("published", "memory", "practice")
EXACT = ("scan_values",)
"""Calculators that repeat a verdict of the control unit, which has no uncertainty."""

every = pytest.mark.parametrize("calculator", CALCULATORS, ids=lambda each: each.id)


def is_sentence(text: str) -> bool:
    return bool(re.match(r"[A-Z0-9“]", text)) and text.endswith((".", "?", ":"))


def module(calculator: Calculator) -> Any:
    return inspect.getmodule(calculator.compute)


@every
def test_module_function_and_id_have_one_name(calculator: Calculator) -> None:
    assert module(calculator).__name__.rpartition(".")[2] == calculator.id
    assert calculator.compute.__name__ == calculator.id
    assert module(calculator).CALCULATOR is calculator


@every
def test_ids_are_unique_and_plain(calculator: Calculator) -> None:
    for entries in (calculator.inputs, calculator.results):
        ids = [entry.id for entry in entries]
        assert len(set(ids)) == len(ids)
        assert all(re.fullmatch(r"[a-z][a-z0-9_]*", each) for each in ids)


@every
def test_texts_are_sentences(calculator: Calculator) -> None:
    for entry in (*calculator.inputs, *calculator.results):
        assert entry.label
        assert not entry.help or is_sentence(entry.help), (entry.id, entry.help)
    assert is_sentence(calculator.summary)
    assert is_sentence(calculator.meaning)
    assert is_sentence(calculator.leaves_out)
    assert calculator.title
    assert calculator.job
    assert calculator.words


@every
def test_sources_say_where_they_stand(calculator: Calculator) -> None:
    assert calculator.sources
    assert {source.standing for source in calculator.sources} <= set(STANDINGS)


@every
def test_units_are_of_the_kind(calculator: Calculator) -> None:
    table = units.installed()
    for entry in calculator.inputs:
        if isinstance(entry, Quantity):
            assert set(entry.units) <= set(table.symbols(entry.kind)), entry.id
    for result in calculator.results:
        if result.kind in ("text", "flag"):
            assert result.units == (), result.id
        elif result.kind != "verdict":
            assert result.units, result.id
            assert set(result.units) <= set(table.symbols(result.kind)), result.id


@every
def test_defaults_lie_inside_their_range(calculator: Calculator) -> None:
    table = units.installed()
    for entry in calculator.inputs:
        if not isinstance(entry, Quantity):
            continue
        assert entry.low is not None, entry.id
        assert entry.high is not None, entry.id
        low, high = table.parse(entry.kind, entry.low), table.parse(entry.kind, entry.high)
        assert low < high
        if entry.default is not None:
            assert low <= table.parse(entry.kind, entry.default) <= high, entry.id


@every
def test_choices_hold_their_default(calculator: Calculator) -> None:
    for entry in calculator.inputs:
        if isinstance(entry, Choice):
            values = [option.value for option in entry.options]
            assert entry.default in values
            assert len(set(values)) == len(values) > 1
            assert all(option.label for option in entry.options)


@every
def test_what_hides_an_input_exists(calculator: Calculator) -> None:
    choices = {
        entry.id: {option.value for option in entry.options}
        for entry in calculator.inputs
        if isinstance(entry, Choice)
    }
    flags = {entry.id for entry in calculator.inputs if isinstance(entry, Flag)}
    for entry in calculator.inputs:
        if entry.shown and entry.shown.choice not in flags:
            assert set(entry.shown.values) <= choices[entry.shown.choice], entry.id


@every
def test_the_first_answer_stands(calculator: Calculator) -> None:
    answer = api.run(calculator.id, {})
    assert answer["errors"] == {}
    assert answer["results"]


def test_examples_are_those_of_the_calculators() -> None:
    assert sorted(EXAMPLES) == api.names()


@every
def test_enough_examples(calculator: Calculator) -> None:
    assert len(EXAMPLES[calculator.id]) >= LEAST_EXAMPLES
    distinct = {tuple(sorted(fields.items())) for fields in EXAMPLES[calculator.id]}
    assert len(distinct) == len(EXAMPLES[calculator.id])
    known = {entry.id for entry in calculator.inputs}
    for fields in EXAMPLES[calculator.id]:
        assert {name.removesuffix(".unit") for name in fields} <= known


@every
def test_links_lead_somewhere(calculator: Calculator) -> None:
    ours = {entry.id for entry in (*calculator.inputs, *calculator.results)}
    for hand in calculator.hands_over:
        theirs = {entry.id: entry for entry in api.describe(hand.to).inputs}
        assert set(hand.carries) | set(hand.sets) <= set(theirs)
        assert set(hand.carries.values()) <= ours
        for name, value in hand.sets.items():
            entry = theirs[name]
            assert isinstance(entry, Choice)
            assert value in [option.value for option in entry.options]


@every
def test_links_carry_the_same_kind(calculator: Calculator) -> None:
    mine = {entry.id: entry for entry in (*calculator.inputs, *calculator.results)}
    for hand in calculator.hands_over:
        theirs = {entry.id: entry for entry in api.describe(hand.to).inputs}
        for name, ours in hand.carries.items():
            entry = theirs[name]
            if isinstance(entry, Quantity):
                assert getattr(mine[ours], "kind", "") == entry.kind, (hand.to, name)


@pytest.mark.parametrize(("name", "fields"), CASES)
def test_examples_run(name: str, fields: dict[str, str]) -> None:
    answer = api.run(name, fields)
    assert answer["errors"] == {}
    assert answer["results"]
    for note in answer["notes"]:
        assert note["signal"] in SIGNALS
        assert is_sentence(note["text"]), note["text"]


@pytest.mark.parametrize(("name", "fields"), CASES)
def test_results_are_those_declared(name: str, fields: dict[str, str]) -> None:
    calculator = api.describe(name)
    values, errors = api.read_fields(calculator, fields)
    assert errors == {}
    answer = calculator.compute(**values)
    declared = {result.id: result.kind for result in calculator.results}
    assert set(answer.values) <= set(declared)
    for result, value in answer.values.items():
        kind = declared[result]
        if value is None:
            continue
        if kind == "verdict":
            assert isinstance(value, Verdict)
        elif kind in ("text", "flag"):
            assert isinstance(value, str if kind == "text" else bool)
        else:
            assert isinstance(value, float | int)
            assert math.isfinite(value), result


@pytest.mark.parametrize(("name", "fields"), CASES)
def test_examples_survive_being_written_out(name: str, fields: dict[str, str]) -> None:
    """A permanent address holds every field as text; it gives the same answer."""
    calculator = api.describe(name)
    whole = dict(fields)
    for entry in calculator.inputs:
        if entry.id in fields:
            continue
        match entry:
            case Quantity():
                whole[entry.id] = entry.default or ""
            case Flag():
                whole[entry.id] = "true" if entry.default else "false"
            case Choice() | Text():
                whole[entry.id] = entry.default
    assert api.run(name, whole) == api.run(name, fields)


@pytest.mark.parametrize(("name", "fields"), CASES)
def test_drawings_are_read_aloud(name: str, fields: dict[str, str]) -> None:
    drawing = api.run(name, fields)["drawing"]
    if not drawing:
        return
    root = ElementTree.fromstring(drawing)
    assert root.get("role") == "img"
    assert is_sentence(root.get("aria-label") or "")
    assert not re.search(r"(nan|inf)", re.sub(r"<(title|desc|text)[^>]*>[^<]*", "", drawing))
    assert "id=" not in drawing
    assert "#" not in drawing


@every
def test_links_of_the_first_answer_open(calculator: Calculator) -> None:
    for link in api.run(calculator.id, {})["links"]:
        assert api.run(link["to"], link["fields"])["errors"] == {}, link


def verdicts() -> list[tuple[str, str]]:
    """Return the outcome of every verdict of every example."""
    found = []
    for name, fields in CASES:
        kinds = {result.id: result.kind for result in api.describe(name).results}
        for result, written in api.run(name, fields)["results"].items():
            if kinds[result] == "verdict":
                found.append((f"{name}.{result}", written["outcome"]))
    return found


@every
def test_examples_cover_every_outcome(calculator: Calculator) -> None:
    ids = [result.id for result in calculator.results if result.kind == "verdict"]
    seen = {outcome for name, outcome in verdicts() if name.split(".")[0] == calculator.id}
    wanted = {"pass", "fail"} if calculator.id in EXACT else {"pass", "fail", "too close to call"}
    assert not ids or seen == wanted


@pytest.mark.parametrize(("name", "fields"), CASES)
def test_too_close_says_what_would_settle_it(name: str, fields: dict[str, str]) -> None:
    for written in api.run(name, fields)["results"].values():
        if written.get("outcome") == "too close to call":
            assert len(written["advice"]) > 30


@every
def test_groups_are_those_of_the_page(calculator: Calculator) -> None:
    assert {entry.group for entry in calculator.inputs} <= set(GROUPS)
    assert any(entry.group in OPEN_GROUPS for entry in calculator.inputs)


@every
def test_conclusions_have_outcomes_that_there_are(calculator: Calculator) -> None:
    for declared in calculator.results:
        assert set(declared.outcomes.values()) <= {"pass", "fail", "too close to call"}
        assert not declared.outcomes or declared.kind in ("text", "flag")


def test_usual_groups_are_of_inputs_that_there_are() -> None:
    known = {entry.id for calculator in CALCULATORS for entry in calculator.inputs}
    assert set(USUAL_GROUP) - known == set()


def test_the_first_answers_are_written_as_they_were() -> None:
    """Every figure of every first answer with its digits, in both unit systems."""
    kept = json.loads(Path(__file__).with_name("first_answers.json").read_text(encoding="utf-8"))
    found = {
        name: {
            result: [written["us"], written["metric"]]
            for result, written in api.run(name, {})["results"].items()
        }
        for name in api.names()
    }
    assert found == kept
