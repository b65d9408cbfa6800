"""Examples come from the sources of the book, as an author would have written them."""

from pathlib import Path

import pytest
import yaml

from baybook.book.reference import records, words_of
from baybook.book.source_model import Fault, Needs, Procedure, Safety, Shared, Tool, Vehicle
from baybook.book.sources.convert import to_record
from baybook.book.sources.load import load_book
from baybook.book.sources.read import Lines
from baybook.pages.authors.examples import Examples

DEMO = Path(__file__).parents[4] / "procedures"


@pytest.fixture
def examples(book_folder: Path) -> Examples:
    return Examples(load_book(book_folder / "procedures"))


@pytest.mark.parametrize(
    ("record", "key", "text"),
    [
        (Procedure, "title", "title: Air pump"),
        (Procedure, "codes", "codes: [P0410, P0411]"),
        (Fault, "sets", "sets: {P0410: 0.9}"),
        (Fault, "often", "often: 2"),
        (Vehicle, "invented", "invented: yes"),
        (
            Procedure,
            "parts",
            "parts:\n  pump:\n    name: pump\n    joins: {air: [valve]}\n# and so on",
        ),
        (
            Tool,
            "gauges",
            "gauges:\n  pressure: {span: 30 inHg, grade: B, resolution: 0.5 inHg}",
        ),
    ],
)
def test_an_example_of_a_field(examples: Examples, record: type, key: str, text: str) -> None:
    found = examples.of_field(record, key)
    assert found is not None
    assert found.yaml == text


def test_a_field_that_no_source_fills_in_has_none(examples: Examples) -> None:
    assert examples.of_field(Needs, "without") is None
    # The tools of the shared file are not the procedure's own.
    assert examples.of_field(Procedure, "tools") is None
    assert examples.of_field(Procedure, "safety") is None


def test_an_example_says_where_it_stands(examples: Examples) -> None:
    fault, safety = examples.of_record(Fault), examples.of_record(Safety)
    assert fault is not None
    assert (fault.title, fault.uri) == ("Air pump", "procedures/air/index.md")
    assert safety is not None
    assert (safety.title, safety.uri) == ("shared.yml", "")


@pytest.mark.parametrize("record", records())
def test_every_record_of_the_demo_book_has_an_example_that_can_be_read(record: type) -> None:
    book = load_book(DEMO)
    examples = Examples(book)
    for field in words_of(record).fields:
        example = examples.of_field(record, field.key)
        if example is not None:
            assert list(yaml.safe_load(example.yaml)) == [field.key]
    whole = examples.of_record(record)
    if record in (Procedure, Vehicle, Shared):
        assert whole is None
    else:
        assert whole is not None
        _, mistakes = to_record(yaml.safe_load(whole.yaml), record, Lines("example", 1))
        assert mistakes == []
