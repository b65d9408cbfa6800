"""Examples of fields, taken from the sources of the book itself."""

import functools
import io
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import yaml
from msgspec import UNSET, structs

from baybook.book.source_model import Procedure, Record
from baybook.book.sources.load import Book, ProcedureSource
from baybook.pages.site import procedure_uri, vehicle_uri

_MOST_LINES = 10
_MOST_ENTRIES = 3
_WIDTH = 88
_LONGEST_GROUP = 72


@dataclass(frozen=True, slots=True)
class Example:
    """A piece of a source as it would be written, and the page of the source it comes from."""

    yaml: str
    title: str
    uri: str


@dataclass(frozen=True, slots=True)
class RecordPlace:
    """A record of the book with the source in which it stands."""

    record: Record
    title: str
    uri: str


class Examples:
    """Finds the examples of a book: for each field the first one that is short."""

    def __init__(self, book: Book) -> None:
        self._places: dict[type[Record], list[RecordPlace]] = {}
        for place in _places(book):
            self._places.setdefault(type(place.record), []).append(place)

    def of_field(self, record: type[Record], key: str) -> Example | None:
        """Return an example of one field, where any source fills it in."""
        field = next(item for item in _fields(record) if item.encode_name == key)
        first = None
        for place in self._places.get(record, []):
            value = getattr(place.record, field.name)
            if value in (UNSET, _default(field)):
                continue
            found = Example(_some(key, value), place.title, place.uri)
            if _is_short(found):
                return found
            first = first or found
        return first

    def of_record(self, record: type[Record]) -> Example | None:
        """Return the fullest of the short records of a kind."""
        by_count = sorted(
            ((count, place) for place in self._places.get(record, []) if (count := _count(place))),
            key=lambda entry: -entry[0],
        )
        for count, place in by_count:
            if count > _MOST_LINES:  # each field takes a line at least
                continue
            written = _written(place.record)
            if _letters(written) > _MOST_LINES * _WIDTH:
                continue
            found = Example(_yaml(written), place.title, place.uri)
            if _is_short(found):
                return found
        return None


def _count(place: RecordPlace) -> int:
    """Return how many fields of a record an author writes."""
    return sum(1 for _ in _given(place.record))


def _is_short(example: Example) -> bool:
    return example.yaml.count("\n") < _MOST_LINES


def _places(book: Book) -> Iterator[RecordPlace]:
    yield from _inside(book.shared, "shared.yml", "")
    for source in book.procedures.values():
        yield from _inside(_as_written(source), source.data.title, procedure_uri(source.id))
    for vehicle in book.vehicles.values():
        yield from _inside(vehicle.data, vehicle.data.name, vehicle_uri(vehicle.id))


def _as_written(source: ProcedureSource) -> Procedure:
    """Return a procedure without what was filled in from the shared file."""
    data, places = source.data, source.lines.by_path
    own = sum(("safety", number) in places for number in range(len(data.safety)))
    return structs.replace(
        data,
        tools={name: tool for name, tool in data.tools.items() if ("tools", name) in places},
        setups={name: each for name, each in data.setups.items() if ("setups", name) in places},
        safety=data.safety[len(data.safety) - own :],
    )


def _inside(record: Record, title: str, uri: str) -> Iterator[RecordPlace]:
    yield RecordPlace(record, title, uri)
    for name in record.__struct_fields__:
        value = getattr(record, name)
        if isinstance(value, dict):
            value = tuple(value.values())
        for inner in value if isinstance(value, tuple) else (value,):
            if isinstance(inner, Record):
                yield from _inside(inner, title, uri)


def _default(field: structs.FieldInfo) -> Any:
    return {} if field.default_factory is dict else field.default


@functools.cache
def _fields(record: type[Record]) -> tuple[structs.FieldInfo, ...]:
    return structs.fields(record)


def _given(record: Record) -> Iterator[tuple[structs.FieldInfo, Any]]:
    """Give the fields of a record that hold no default."""
    for field in _fields(type(record)):
        given = getattr(record, field.name)
        if given not in (UNSET, _default(field)):
            yield field, given


def _written(value: Any) -> Any:
    """Return a value as an author writes it: no field that holds its default."""
    if isinstance(value, Record):
        return {field.encode_name: _written(given) for field, given in _given(value)}
    if isinstance(value, dict):
        return {name: _written(inner) for name, inner in value.items()}
    if isinstance(value, tuple):
        return [_written(inner) for inner in value]
    return int(value) if isinstance(value, float) and value == int(value) else value


def _letters(written: Any) -> int:
    """Return how many letters the values of a written record have, at least."""
    if isinstance(written, dict):
        return sum(len(name) + _letters(inner) for name, inner in written.items())
    if isinstance(written, list):
        return sum(map(_letters, written))
    return len(str(written))


def _some(key: str, value: Any) -> str:
    """Write a field, cut to its first entries."""
    written = _written(value)
    cut = written
    if isinstance(value, dict):
        inner = next(iter(value.values()))
        cut = dict(list(written.items())[: 1 if isinstance(inner, Record) else _MOST_ENTRIES])
    elif isinstance(value, tuple):
        cut = written[:_MOST_ENTRIES]
    return _yaml({key: cut}) + ("" if cut == written else "\n# and so on")


class _Dumper(yaml.SafeDumper):
    """Writes YAML as the sources have it: yes and no, lists set in, short groups in brackets."""

    def increase_indent(self, flow: bool = False, indentless: bool = False) -> None:  # noqa: ARG002
        super().increase_indent(flow, False)


_Dumper.add_representer(
    bool,
    lambda dumper, value: dumper.represent_scalar(
        "tag:yaml.org,2002:bool", "yes" if value else "no"
    ),
)


def _yaml(data: Any) -> str:
    node = _Dumper(io.StringIO(), sort_keys=False).represent_data(data)
    assert isinstance(node, yaml.MappingNode)
    _put_in_brackets(node)
    node.flow_style = False
    text: str = yaml.serialize(node, Dumper=_Dumper, allow_unicode=True, width=_WIDTH)
    return text.rstrip("\n")


def _put_in_brackets(node: yaml.Node) -> int:
    """Put the groups that fit on a line in brackets; return the length of a node on one line."""
    if not isinstance(node, yaml.MappingNode | yaml.SequenceNode):
        return len(node.value)
    pairs = [item if isinstance(item, tuple) else (item,) for item in node.value]
    length = sum(_put_in_brackets(entry) + 2 for pair in pairs for entry in pair)
    groups = any(isinstance(pair[-1], yaml.MappingNode) for pair in pairs)
    node.flow_style = length <= _LONGEST_GROUP and not groups
    return length
