"""Plain data into typed records; every mistake is collected, field by field."""

import functools
import math
import re
import typing
from collections.abc import Iterator, Mapping
from typing import Any

import msgspec
from msgspec import Struct

from baybook.book.source_types import OF_CAR, SHORTHANDS, OfCar
from baybook.book.sources.problems import Problem, close_match
from baybook.book.sources.read import Lines, Path

_fields = functools.cache(msgspec.structs.fields)


def to_record[R: Struct](
    data: Any, record: type[R], lines: Lines
) -> tuple[R | None, list[Problem]]:
    """Turn plain data into a record, with the list of all its mistakes.

    Where a field is wrong, the record holds a place-holder and ``lines.broken`` its path, so
    that the rest can still be checked. There is no record where a whole group is missing.
    """
    converter = _Converter(lines)
    value = converter.convert(data, record, ())
    return (None if converter.hopeless else value), converter.problems


class _Converter:
    """Converts the data of one source."""

    def __init__(self, lines: Lines) -> None:
        self.lines = lines
        self.problems: list[Problem] = []
        self.hopeless = False

    def convert(self, data: Any, kind: Any, path: Path) -> Any:
        """Return the value of a kind, or report and return a place-holder."""
        base = base_of(kind)
        origin, inner = typing.get_origin(base), typing.get_args(base)
        if data is None:
            return self._broken(kind, path, f"expected {type_name(kind)}, got nothing")
        if isinstance(base, type) and issubclass(base, Struct):
            short = SHORTHANDS.get(base) if isinstance(data, list) else None
            if short:
                kinds = {item.name: item.type for item in _fields(base)}
                return base(**{short: self.convert(data, kinds[short], path)})
            return self._record(data, base, path)
        if origin is dict and isinstance(data, dict):
            return self._mapping(data, inner, path)
        if origin is tuple and isinstance(data, list):
            return self._sequence(data, kind, path)
        return self._leaf(data, kind, path)

    def _broken(self, kind: Any, path: Path, text: str, hint: str = "") -> Any:
        self.problems.append(self.lines.problem(path, text, hint))
        self.lines.broken.add(path)
        group = typing.get_origin(base_of(kind)) in (dict, tuple)
        self.hopeless |= not path or (group and len(path) == 1)
        return _place_holder(kind)

    def _record(self, data: Any, kind: type[Struct], path: Path) -> Any:
        fields = {item.encode_name: item for item in _fields(kind)}
        if not isinstance(data, dict):
            return self._broken(
                kind, path, f"expected fields ({', '.join(fields)}), got {say(data)}"
            )
        data = self._spelt(data, fields, path)
        values: dict[str, Any] = {}
        for name, item in fields.items():
            here = (*path, name)
            if name in data:
                values[item.name] = self.convert(data[name], item.type, here)
                if item.required and base_of(item.type) is str:
                    self._check_blank(data[name], item.type, here)
            elif item.required:
                text = f"expected {type_name(item.type)}, got nothing"
                values[item.name] = self._broken(item.type, here, text, f"add the line {name}: ...")
        return kind(**values)

    def _check_blank(self, data: Any, kind: Any, path: Path) -> None:
        if isinstance(data, str) and not data.strip() and not self.lines.is_broken(path):
            self._broken(kind, path, f"expected {type_name(kind)}, got nothing")

    def _spelt(self, data: dict[str, Any], fields: Mapping[str, Any], path: Path) -> dict[str, Any]:
        """Report unknown fields; a misspelt one stands for the field that was meant."""
        spelt = {name: value for name, value in data.items() if name in fields}
        for name in data.keys() - fields.keys():
            if self.lines.is_broken((*path, name)):
                continue
            close = close_match(name, fields.keys() - data.keys())
            text = f"expected a known field, got {name}"
            hint = close or f"known are {', '.join(fields)}"
            self.problems.append(self.lines.problem((*path, name), text, hint))
            self.lines.broken.add((*path, name))
            if close:
                meant = close.removeprefix("did you mean ").removesuffix("?")
                spelt[meant] = data[name]
                self.lines.rename((*path, name), (*path, meant))
        return spelt

    def _mapping(self, data: dict[str, Any], inner: tuple[Any, ...], path: Path) -> dict[Any, Any]:
        key_kind, value_kind = inner
        converted = {}
        for name, value in data.items():
            self._leaf(name, key_kind, (*path, name))
            converted[name] = self.convert(value, value_kind, (*path, name))
        return converted

    def _sequence(self, data: list[Any], kind: Any, path: Path) -> Any:
        inner = typing.get_args(base_of(kind))
        if inner[-1] is Ellipsis:
            inner = (inner[0],) * len(data)
        elif len(inner) != len(data):
            text = f"expected a list of {len(inner)}, got {say(data)}"
            return self._broken(kind, path, text)
        return tuple(
            self.convert(item, each, (*path, place))
            for place, (item, each) in enumerate(zip(data, inner, strict=True))
        )

    def _leaf(self, data: Any, kind: Any, path: Path) -> Any:
        if isinstance(data, float) and not math.isfinite(data):
            return self._broken(kind, path, f"expected a finite number, got {data}")
        if isinstance(data, str) and figure_kind(kind) and _FIGURE.fullmatch(data):
            return OfCar(data)
        if base_of(kind) is bool and data in ("yes", "no"):
            return data == "yes"
        try:
            return msgspec.convert(data, kind)
        except msgspec.ValidationError as error:
            return self._broken(kind, path, *_leaf_text(data, kind, str(error)))


_FIGURE = re.compile(r"[a-z][a-z0-9-]*(\.(least|greatest))?")


def figure_kind(kind: Any) -> str:
    """Return the kind of the vehicle's figure whose name may stand for a number, or nothing."""
    for part in typing.get_args(kind):
        if isinstance(part, msgspec.Meta) and part.extra and OF_CAR in part.extra:
            return str(part.extra[OF_CAR])
        if typing.get_origin(part) is typing.Annotated and (found := figure_kind(part)):
            return found
    return ""


def _place_holder(kind: Any) -> Any:
    """Return an empty value of a type; it is never built from, only checked around."""
    base = base_of(kind)
    if isinstance(base, type) and issubclass(base, Struct):
        needed = (item for item in _fields(base) if item.required)
        return base(**{item.name: _place_holder(item.type) for item in needed})
    origin, inner = typing.get_origin(base), typing.get_args(base)
    if origin is tuple and inner[-1] is not Ellipsis:
        return tuple(_place_holder(each) for each in inner)
    return inner[0] if origin is typing.Literal else (origin or base)()


_BOUNDS = {">=": "of at least", "<=": "of at most", ">": "above", "<": "below"}


def _leaf_text(data: Any, kind: Any, error: str) -> tuple[str, str]:
    choices = _choices(base_of(kind))
    if choices:
        return f"expected {type_name(kind)}; got {say(data)}", close_match(str(data), choices)
    bound = re.match(r"Expected `(?:float|int)` ([<>]=?) ([\d.]+)", error)
    if bound:
        number = bound[2].removesuffix(".0")
        hint = (
            f"write {data / 100:g}"
            if (bound[1], number) == ("<=", "1") and 2 <= data <= 100
            else ""
        )
        return f"expected a number {_BOUNDS[bound[1]]} {number}, got {say(data)}", hint
    base = base_of(kind)
    if base is str and not isinstance(data, str | list | dict) and not list(_titles(kind)):
        return f"expected a text, got {say(data)}", f'put it in quotes: "{say(data)}"'
    got = f"the text {data}" if isinstance(data, str) and base is not str else say(data)
    return f"expected {type_name(kind)}, got {got}", _leaf_hint(data, kind)


_WITH_WORD = re.compile(r"(\d+(?:\.\d+)?)\s*([a-zA-Z%]\w*|%)")


def _leaf_hint(data: Any, kind: Any) -> str:
    """Return how a value that is almost right is written."""
    if "a code such as P0410" in _titles(kind):
        return _code_hint(say(data))
    number = _WITH_WORD.fullmatch(data.strip()) if isinstance(data, str) else None
    if number and base_of(kind) is float:
        whole = float(number[1])
        return (
            f"write {whole / 100:g}" if number[2] == "%" else f"write {number[1]}, without a unit"
        )
    if isinstance(data, str) and base_of(kind) is float and re.fullmatch(r"\d+,\d+", data):
        return f"a decimal comma? write {data.replace(',', '.')}"
    return ""


def _code_hint(code: str) -> str:
    plain = re.sub(r"[\s-]", "", code).upper()
    if plain.isdigit() and len(plain) < 4:
        return "a decimal comma? write a point"
    letter = plain[:1] if plain[:1] in "PBCU" else "P"
    digits = plain.removeprefix(letter).replace("O", "0").replace("I", "1")
    found = f"{letter}{digits.rjust(4, '0')}"
    return f"did you mean {found}?" if re.fullmatch(r"[PBCU][0-3][0-9A-F]{3}", found) else ""


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
