"""The model told in words: each record with its fields, from the model's own descriptions."""

import re
import typing
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import msgspec
from msgspec import Struct

from baybook.book import source_model
from baybook.book.pint_quantities import KINDS
from baybook.book.source_model import SYSTEMS, Observation, Procedure, Record, Tool
from baybook.book.source_types import FLOWS, HAZARDS
from baybook.book.sources.convert import base_of, type_name

Words = tuple[str | type[Record], ...]
"""A sentence in pieces; a piece that is a record is a link to it."""

_NAMES: dict[tuple[type[Record], str], tuple[str, ...]] = {
    (Procedure, "system"): tuple(SYSTEMS),
    (Observation, "kind"): tuple(KINDS),
    (Tool, "gauges"): tuple(KINDS),
    (source_model.Part, "joins"): FLOWS,
    (source_model.Safety, "covers"): HAZARDS,
    (source_model.Setup, "hazards"): HAZARDS,
}
"""Fields of which the names are checked by more than their type."""

_OF_RECORD = "the fields of "

_KEYS = {source_model.Id: "by name", source_model.Code: "by code", str: "by name"}


@dataclass(frozen=True, slots=True)
class FieldWords:
    """A field of a record: its key, what it means, how it is written, and what may stand there.

    ``standing`` says whether it must be there, and what holds without it.
    """

    key: str
    means: str
    written: Words
    standing: str
    allowed: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class RecordWords:
    """A record: its title, what it is, its fields, and the fields in which it stands."""

    record: type[Record]
    title: str
    means: str
    fields: tuple[FieldWords, ...]
    stands_in: tuple[tuple[type[Record], str], ...]


def records() -> list[type[Record]]:
    """Return the records of the model: the three sources, each followed by what stands in it."""
    found: list[type[Record]] = []
    for source in (source_model.Procedure, source_model.Vehicle, source_model.Shared):
        _collect(source, found)
    return found


def _collect(record: type[Record], found: list[type[Record]]) -> None:
    if record in found:
        return
    found.append(record)
    for item in msgspec.structs.fields(record):
        for inner in _records_in(item.type):
            _collect(inner, found)


def _records_in(kind: Any) -> Iterator[type[Record]]:
    base = base_of(kind)
    if isinstance(base, type) and issubclass(base, Record):
        yield base
    elif typing.get_origin(base) in (dict, tuple):
        for inner in typing.get_args(base):
            yield from _records_in(inner)


def record_title(record: type[Struct]) -> str:
    """Return the name of a record as people read it."""
    words = re.sub(r"(?<=[a-z])(?=[A-Z])", "-", record.__name__).lower().capitalize()
    return words.replace("Setup", "Set-up")


def words_of(record: type[Record]) -> RecordWords:
    """Return a record in words."""
    return RecordWords(
        record=record,
        title=record_title(record),
        means=str(record.__doc__),
        fields=tuple(_field(record, item) for item in msgspec.structs.fields(record)),
        stands_in=tuple(
            (other, item.encode_name)
            for other in records()
            for item in msgspec.structs.fields(other)
            if record in _records_in(item.type)
        ),
    )


def _field(record: type[Record], item: msgspec.structs.FieldInfo) -> FieldWords:
    own = _NAMES.get((record, item.encode_name), ())
    return FieldWords(
        key=item.encode_name,
        means=_description(item.type),
        written=_written_own(item.type) if own else _written(item.type),
        standing=_standing(item),
        allowed=own or tuple(_choices(item.type)),
    )


def _written_own(kind: Any) -> Words:
    """Say how a field is written whose words are checked by more than their type."""
    base = base_of(kind)
    if typing.get_origin(base) is tuple:
        return ("a list, each one of the words below",)
    return ("one of the words below",) if base is str else _written(kind)


def _metas(kind: Any) -> Iterator[msgspec.Meta]:
    """Return the descriptions of a type, outermost first."""
    for part in reversed(typing.get_args(kind)):
        if isinstance(part, msgspec.Meta):
            yield part
        elif typing.get_origin(part) is typing.Annotated:
            yield from _metas(part)


def _description(kind: Any) -> str:
    return next(meta.description for meta in _metas(kind) if meta.description)


def _written(kind: Any) -> Words:
    base = base_of(kind)
    origin, inner = typing.get_origin(base), typing.get_args(base)
    if isinstance(base, type) and issubclass(base, Record):
        return (_OF_RECORD, base)
    if origin is dict:
        return _each(_KEYS.get(inner[0], "by one of the words below"), inner[1])
    if origin is tuple:
        return _each("a list" if inner[-1] is ... else "a list of two", inner[0])
    if origin is typing.Literal:
        return ("one of the words below",)
    return (_number(kind) if base is float else type_name(kind),)


def _each(many: str, inner: Any) -> Words:
    """Say what stands in a group."""
    words = _written(inner)
    return (f"{many}, each {'with ' if words[0] == _OF_RECORD else ''}", *words)


def _number(kind: Any) -> str:
    bounds: dict[str, float] = {}
    for meta in _metas(kind):
        for name in ("ge", "gt", "le"):
            value = getattr(meta, name)
            if value is not None:
                bounds.setdefault(name, value)
    if "ge" in bounds and "le" in bounds:
        return f"a number from {bounds['ge']:g} to {bounds['le']:,g}"
    low = f"above {bounds['gt']:g}" if "gt" in bounds else f"of at least {bounds['ge']:g}"
    return f"a number {low}" + (f", at most {bounds['le']:,g}" if "le" in bounds else "")


def _standing(item: msgspec.structs.FieldInfo) -> str:
    if item.required:
        return "required"
    default = item.default
    if isinstance(default, bool):
        return f"may be left out; then {'yes' if default else 'no'}"
    if isinstance(default, int | float):
        return f"may be left out; then {default:g}"
    if isinstance(default, str) and default:
        return f"may be left out; then {default}"
    return "may be left out"


def _choices(kind: Any) -> Iterator[str]:
    """Return the words that may stand somewhere in a field."""
    base = base_of(kind)
    if typing.get_origin(base) is typing.Literal:
        yield from (word for word in typing.get_args(base) if word)
    elif typing.get_origin(base) in (dict, tuple):
        for inner in typing.get_args(base):
            yield from _choices(inner)
