"""The model in words: every field of every record, with its type, standing and words."""

import re

import msgspec
import pytest

from baybook.book import source_model
from baybook.book.pint_quantities import KINDS
from baybook.book.reference import FieldWords, record_title, records, words_of
from baybook.book.source_model import (
    Fault,
    Gauge,
    KnockOn,
    Limit,
    Observation,
    Part,
    Procedure,
    Record,
    Safety,
    Tool,
)


def field(record: type[Record], key: str) -> FieldWords:
    return next(each for each in words_of(record).fields if each.key == key)


def written(record: type[Record], key: str) -> str:
    """Return how a field is written, with its records in angle brackets."""
    pieces = field(record, key).written
    return "".join(each if isinstance(each, str) else f"<{each.__name__}>" for each in pieces)


def test_every_record_of_the_model_is_told_once() -> None:
    defined = {
        each
        for each in vars(source_model).values()
        if isinstance(each, type) and issubclass(each, Record) and each is not Record
    }
    assert len(records()) == len(set(records()))
    assert set(records()) == defined


@pytest.mark.parametrize("record", records())
def test_every_field_has_all_its_words(record: type[Record]) -> None:
    words = words_of(record)
    assert [each.key for each in words.fields] == [
        item.encode_name for item in msgspec.structs.fields(record)
    ]
    for each in words.fields:
        assert re.fullmatch(r"[A-Z][^\n]*\.", each.means)
        assert each.written
        assert each.standing == "required" or each.standing.startswith("may be left out")
    assert re.fullmatch(r"[A-Z][^\n]*\.", words.means)


@pytest.mark.parametrize(
    ("record", "key", "words"),
    [
        (Procedure, "title", "a text"),
        (Procedure, "codes", "a list, each a code such as P0410"),
        (Procedure, "faults", "by name, each with the fields of <Fault>"),
        (Procedure, "vehicles", "the fields of <Needs>"),
        (Procedure, "sources", "a list, each with the fields of <Source>"),
        (Procedure, "recheck", "a number from 0 to 2,000"),
        (
            Procedure,
            "ambiguity-groups",
            "a list, each a list, each a name of lower-case letters, digits and hyphens",
        ),
        (Procedure, "system", "one of the words below"),
        (Fault, "often", "a number above 0, at most 100,000"),
        (Fault, "sets", "by code, each a number from 0 to 1"),
        (Limit, "between", "a list of two, each a quantity with its unit, such as 20 inHg"),
        (Limit, "scales-with-air", "yes or no"),
        (Safety, "covers", "a list, each one of the words below"),
        (source_model.Repair, "price", "a number from 0 to 100,000"),
    ],
)
def test_how_a_field_is_written(record: type[Record], key: str, words: str) -> None:
    assert written(record, key) == words


@pytest.mark.parametrize(
    ("record", "key", "standing"),
    [
        (Procedure, "title", "required"),
        (Procedure, "recheck", "may be left out; then 15"),
        (Observation, "false-alarm", "may be left out; then 0.02"),
        (KnockOn, "later", "may be left out; then 0"),
        (Limit, "scales-with-air", "may be left out; then no"),
        (source_model.Source, "standing", "may be left out; then published"),
        (Limit, "figure", "may be left out"),
        (Procedure, "tools", "may be left out"),
    ],
)
def test_what_holds_without_a_field(record: type[Record], key: str, standing: str) -> None:
    assert field(record, key).standing == standing


def test_the_words_that_may_stand() -> None:
    assert field(Safety, "signal").allowed == ("danger", "warning", "caution", "notice")
    assert field(Observation, "kind").allowed == tuple(KINDS)
    assert field(Tool, "gauges").allowed == tuple(KINDS)
    assert "air" in field(Part, "joins").allowed
    assert "" not in field(Gauge, "grade").allowed
    assert field(Procedure, "title").allowed == ()


def test_where_a_record_stands() -> None:
    assert words_of(Gauge).stands_in == ((Tool, "gauges"),)
    assert words_of(Procedure).stands_in == ()
    assert [record_title(each) for each in (KnockOn, source_model.Setup)] == ["Knock-on", "Set-up"]
