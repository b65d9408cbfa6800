"""Plain data into typed records; every mistake is collected, field by field."""

import math
import re
import typing
from collections.abc import Iterator
from typing import Any

import msgspec
from msgspec import UNSET, Struct

from baybook.book.problems import Problem, close_match
from baybook.book.read import Lines, Path


def to_record[R: Struct](
    data: Any, record: type[R], lines: Lines
) -> tuple[R | None, list[Problem]]:
    """Turn plain data into a record, or into the list of its mistakes."""
    converter = _Converter(lines)
    value = converter.convert(data, record, ())
    return (None if converter.problems else value), converter.problems


class _Converter:
    """Converts the data of one source."""

    def __init__(self, lines: Lines) -> None:
        self.lines = lines
        self.problems: list[Problem] = []

    def convert(self, data: Any, kind: Any, path: Path) -> Any:
        """Return the value of a kind, or report and return `UNSET`."""
        base = base_of(kind)
        origin, inner = typing.get_origin(base), typing.get_args(base)
        if data is None:
            self._add(path, f"expected {type_name(kind)}, got nothing")
            return UNSET
        if isinstance(base, type) and issubclass(base, Struct):
            return self._record(data, base, path)
        if origin is dict and isinstance(data, dict):
            return self._mapping(data, inner, path)
        if origin is tuple and isinstance(data, list):
            return self._sequence(data, inner, path)
        return self._leaf(data, kind, path)

    def _add(self, path: Path, text: str, hint: str = "") -> None:
        self.problems.append(self.lines.problem(path, text, hint))

    def _record(self, data: Any, kind: type[Struct], path: Path) -> Any:
        fields = {item.encode_name: item for item in msgspec.structs.fields(kind)}
        known = ", ".join(fields)
        if not isinstance(data, dict):
            self._add(path, f"expected fields ({known}), got {say(data)}")
            return UNSET
        for name in data.keys() - fields.keys():
            hint = close_match(name, fields) or f"known are {known}"
            self._add((*path, name), f"expected a known field, got {name}", hint)
        values: dict[str, Any] = {}
        for name, item in fields.items():
            if name in data:
                values[item.name] = self.convert(data[name], item.type, (*path, name))
            elif item.required:
                text = f"expected {type_name(item.type)}, got nothing"
                self._add((*path, name), text, f"add the line {name}: ...")
        return UNSET if self.problems else kind(**values)

    def _mapping(self, data: dict[str, Any], inner: tuple[Any, ...], path: Path) -> dict[Any, Any]:
        key_kind, value_kind = inner
        converted = {}
        for name, value in data.items():
            self._leaf(name, key_kind, (*path, name))
            converted[name] = self.convert(value, value_kind, (*path, name))
        return converted

    def _sequence(self, data: list[Any], inner: tuple[Any, ...], path: Path) -> Any:
        if inner[-1] is Ellipsis:
            inner = (inner[0],) * len(data)
        elif len(inner) != len(data):
            self._add(path, f"expected a list of {len(inner)}, got {say(data)}")
            return UNSET
        return tuple(
            self.convert(item, kind, (*path, place))
            for place, (item, kind) in enumerate(zip(data, inner, strict=True))
        )

    def _leaf(self, data: Any, kind: Any, path: Path) -> Any:
        try:
            if isinstance(data, float) and not math.isfinite(data):
                raise msgspec.ValidationError("not finite")
            return msgspec.convert(data, kind)
        except msgspec.ValidationError as error:
            self._add(path, *_leaf_text(data, kind, str(error)))
            return UNSET


def _leaf_text(data: Any, kind: Any, error: str) -> tuple[str, str]:
    choices = _choices(base_of(kind))
    if choices:
        return f"expected {type_name(kind)}; got {say(data)}", close_match(str(data), choices)
    bound = re.match(r"Expected `(?:float|int)` ([<>]=? [\d.]+)", error)
    if bound:
        return f"expected a number {bound[1].removesuffix('.0')}, got {say(data)}", ""
    base = base_of(kind)
    if base is str and not isinstance(data, str | list | dict) and not _titles(kind):
        return f"expected a text, got {say(data)}", f'put it in quotes: "{say(data)}"'
    got = f"the text {data}" if isinstance(data, str) and base is not str else say(data)
    return f"expected {type_name(kind)}, got {got}", ""


def base_of(kind: Any) -> Any:
    """Return a type without its descriptions and without the alternative of being unset."""
    while True:
        inner = typing.get_args(kind)
        if typing.get_origin(kind) is typing.Annotated or msgspec.UnsetType in inner:
            kind = inner[0]
        else:
            return kind


def _titles(kind: Any) -> Iterator[str]:
    """Return the titles that describe a type, innermost first."""
    for part in typing.get_args(kind):
        if isinstance(part, msgspec.Meta):
            if part.title:
                yield part.title
        elif typing.get_origin(part) is typing.Annotated:
            yield from _titles(part)


def _choices(base: Any) -> list[str]:
    literal = typing.get_origin(base) is typing.Literal
    return [str(value) for value in typing.get_args(base) if value] if literal else []


_PLAIN_NAMES = {str: "a text", float: "a number", int: "a whole number", bool: "yes or no"}


def type_name(kind: Any) -> str:
    """Say in words what a type is."""
    for title in _titles(kind):
        return title
    base = base_of(kind)
    origin, inner = typing.get_origin(base), typing.get_args(base)
    if origin is tuple:
        return "a list" if inner[-1] is Ellipsis else f"a list of {len(inner)}"
    if origin is typing.Literal:
        return "one of " + ", ".join(_choices(base))
    return _PLAIN_NAMES.get(base, "fields")


def say(data: Any) -> str:
    """Write a value for a sentence."""
    if isinstance(data, dict):
        return "fields"
    if isinstance(data, list):
        return f"a list of {len(data)}"
    if isinstance(data, bool):
        return "yes" if data else "no"
    text = str(data)
    return text if len(text) < 60 else text[:57] + "..."
