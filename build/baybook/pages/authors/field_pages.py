"""The reference of the front matter: one page for each record, one anchor for each field."""

from typing import Any

from baybook.book.reference import FieldWords, RecordWords, Words, record_title, records, words_of
from baybook.book.source_model import Record
from baybook.book.sources.load import Book
from baybook.pages.authors.examples import Example, Examples
from baybook.pages.render import environment
from baybook.pages.site import Page, record_uri, relative

TRAIL = ("For authors", "Fields")

FIELDS_URI = "authors/fields/index.md"
"""Address of the page that lists all fields."""


def field_pages(book: Book) -> list[Page]:
    """Return the page of all fields, and a page for each record."""
    told = [words_of(record) for record in records()]
    examples = Examples(book)
    return [_index_page(told), *(_record_page(words, examples) for words in told)]


def _index_page(told: list[RecordWords]) -> Page:
    markdown = (
        environment()
        .get_template("authors_fields.md.j2")
        .render(records=[(words, relative(record_uri(words.title), FIELDS_URI)) for words in told])
    )
    return Page(FIELDS_URI, "Fields", markdown, TRAIL)


def _record_page(words: RecordWords, examples: Examples) -> Page:
    uri = record_uri(words.title)
    markdown = (
        environment()
        .get_template("authors_record.md.j2")
        .render(
            words=words,
            stands_in=[
                (_link(record, key), f"{record_title(record)}: {key}")
                for record, key in words.stands_in
            ],
            fields=[_field(words.record, field, examples, uri) for field in words.fields],
            example=_example(examples.of_record(words.record), uri),
        )
    )
    return Page(uri, words.title, markdown, TRAIL)


def _field(
    record: type[Record], field: FieldWords, examples: Examples, page: str
) -> dict[str, Any]:
    return {
        "key": field.key,
        "means": field.means,
        "written": _linked(field.written),
        "standing": field.standing,
        "allowed": field.allowed,
        "example": _example(examples.of_field(record, field.key), page),
    }


def _link(record: type[Record], key: str = "") -> str:
    """Return the address of a record, or of one of its fields, as seen from another record."""
    address = relative(record_uri(record_title(record)), FIELDS_URI)
    return f"{address}#{key}" if key else address


def _linked(words: Words) -> str:
    return "".join(
        piece if isinstance(piece, str) else f"[{record_title(piece).lower()}]({_link(piece)})"
        for piece in words
    )


def _example(example: Example | None, page: str) -> dict[str, str] | None:
    if example is None:
        return None
    uri = relative(example.uri, page) if example.uri else ""
    return {"yaml": example.yaml, "title": example.title, "uri": uri}
