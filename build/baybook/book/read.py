"""YAML with line numbers into typed records, with every mistake collected."""

import re
import typing
from dataclasses import dataclass, field
from typing import Any

import msgspec
import yaml
from msgspec import UNSET, Struct

from baybook.book.problems import Problem, close_match

Path = tuple[str | int, ...]


@dataclass(slots=True)
class Lines:
    """Where each field of a YAML text stands, by its path."""

    file: str
    first: int
    by_path: dict[Path, int] = field(default_factory=dict)

    def line(self, path: Path) -> int:
        """Return the line of a field, or of the nearest one around it."""
        while path and path not in self.by_path:
            path = path[:-1]
        return self.by_path.get(path, self.first)

    def problem(self, path: Path, text: str, hint: str = "", severity: str = "error") -> Problem:
        """Make a problem that stands at a field."""
        return Problem(self.file, self.line(path), dotted(path), text, hint, severity)


def dotted(path: Path) -> str:
    """Write a path as ``tests.valve-hold.after[0]``."""
    text = ""
    for step in path:
        text += f"[{step}]" if isinstance(step, int) else f".{step}" if text else step
    return text


def read_yaml(text: str, file: str, first: int = 1) -> tuple[Any, Lines, list[Problem]]:
    """Parse a YAML text into plain data, the lines of its fields, and its mistakes."""
    lines = Lines(file, first)
    loader = yaml.SafeLoader(text)
    try:
        node = loader.get_single_node()
    except yaml.MarkedYAMLError as error:
        mark = error.problem_mark or error.context_mark
        line = first + (mark.line if mark else 0)
        return (
            None,
            lines,
            [
                Problem(
                    file,
                    line,
                    "",
                    f"expected YAML, got a fault: {error.problem}",
                    _yaml_hint(error),
                )
            ],
        )
    except yaml.YAMLError as error:
        return None, lines, [Problem(file, first, "", f"expected YAML, got a fault: {error}")]
    if node is None:
        return None, lines, []
    problems: list[Problem] = []
    data = _plain(loader, node, (), lines, problems)
    return data, lines, problems


def _yaml_hint(error: yaml.MarkedYAMLError) -> str:
    if error.problem and "mapping values" in error.problem:
        return "a text with a colon in it needs quotes"
    return "look at the indentation, quotes and brackets up to this line"


def _plain(
    loader: yaml.SafeLoader, node: yaml.Node, path: Path, lines: Lines, problems: list[Problem]
) -> Any:
    lines.by_path.setdefault(path, lines.first + node.start_mark.line)
    if isinstance(node, yaml.MappingNode):
        return _plain_mapping(loader, node, path, lines, problems)
    if isinstance(node, yaml.SequenceNode):
        return [
            _plain(loader, item, (*path, place), lines, problems)
            for place, item in enumerate(node.value)
        ]
    return loader.construct_object(node)


def _plain_mapping(
    loader: yaml.SafeLoader,
    node: yaml.MappingNode,
    path: Path,
    lines: Lines,
    problems: list[Problem],
) -> dict[str, Any]:
    data: dict[str, Any] = {}
    for key_node, value_node in node.value:
        key = str(key_node.value)
        here = (*path, key)
        if key in data:
            line = lines.first + key_node.start_mark.line
            problems.append(
                Problem(
                    lines.file,
                    line,
                    dotted(here),
                    f"expected each name once, got {key} again (first on line {lines.line(here)})",
                    "rename one of the two",
                )
            )
            continue
        lines.by_path[here] = lines.first + key_node.start_mark.line
        data[key] = _plain(loader, value_node, here, lines, problems)
    return data


def to_record[R: Struct](
    data: Any, record: type[R], lines: Lines
) -> tuple[R | None, list[Problem]]:
    """Turn plain data into a record; all its mistakes are collected, field by field."""
    problems: list[Problem] = []
    value = _convert(data, record, (), lines, problems)
    return (None if problems else value), problems


def _convert(data: Any, kind: Any, path: Path, lines: Lines, problems: list[Problem]) -> Any:
    kind = _without_extras(kind)
    origin = typing.get_origin(kind)
    if isinstance(kind, type) and issubclass(kind, Struct):
        return _convert_record(data, kind, path, lines, problems)
    if origin is dict and isinstance(data, dict):
        return _convert_mapping(data, kind, path, lines, problems)
    if origin is tuple and typing.get_args(kind)[-1] is Ellipsis and isinstance(data, list):
        inner = typing.get_args(kind)[0]
        return tuple(
            _convert(item, inner, (*path, place), lines, problems)
            for place, item in enumerate(data)
        )
    return _convert_leaf(data, kind, path, lines, problems)


def _without_extras(kind: Any) -> Any:
    """Drop a description around a record or container, and the alternative of being unset."""
    arguments = [part for part in typing.get_args(kind) if part is not msgspec.UnsetType]
    if msgspec.UnsetType in typing.get_args(kind):
        kind = arguments[0]
    if typing.get_origin(kind) is typing.Annotated:
        inner = typing.get_args(kind)[0]
        if typing.get_origin(inner) in (dict, tuple) or (
            isinstance(inner, type) and issubclass(inner, Struct)
        ):
            return inner
    return kind


def _convert_record(
    data: Any, kind: type[Struct], path: Path, lines: Lines, problems: list[Problem]
) -> Any:
    if not isinstance(data, dict):
        problems.append(lines.problem(path, f"expected fields ({_names(kind)}), got {_say(data)}"))
        return None
    fields = {item.encode_name: item for item in msgspec.structs.fields(kind)}
    for name in data.keys() - fields.keys():
        known = ", ".join(fields)
        hint = close_match(name, fields) or f"known are {known}"
        problems.append(lines.problem((*path, name), f"expected a known field, got {name}", hint))
    values: dict[str, Any] = {}
    for name, item in fields.items():
        if name in data:
            values[item.name] = _convert(data[name], item.type, (*path, name), lines, problems)
        elif item.required:
            problems.append(
                lines.problem(
                    (*path, name),
                    f"expected {_type_name(item.type)}, got nothing",
                    f"add the line {name}: ...",
                )
            )
    return None if problems else kind(**values)


def _convert_mapping(
    data: dict[str, Any], kind: Any, path: Path, lines: Lines, problems: list[Problem]
) -> Any:
    key_kind, value_kind = typing.get_args(kind)
    converted = {}
    for name, value in data.items():
        _convert_leaf(name, key_kind, (*path, name), lines, problems)
        converted[name] = _convert(value, value_kind, (*path, name), lines, problems)
    return converted


def _convert_leaf(data: Any, kind: Any, path: Path, lines: Lines, problems: list[Problem]) -> Any:
    if data is None:
        problems.append(lines.problem(path, f"expected {_type_name(kind)}, got nothing"))
        return UNSET
    try:
        return msgspec.convert(data, kind)
    except msgspec.ValidationError as error:
        problems.append(lines.problem(path, *_leaf_text(data, kind, str(error))))
        return UNSET


def _leaf_text(data: Any, kind: Any, error: str) -> tuple[str, str]:
    pattern = re.search(r"matching regex", error)
    if pattern:
        return f"expected {_type_name(kind)}, got {_say(data)}", ""
    choices = _choices(kind)
    if choices:
        hint = close_match(str(data), choices)
        return f"expected one of {', '.join(filter(None, choices))}; got {_say(data)}", hint
    wanted = re.match(r"Expected `(.*?)`(?:, got)?", error)
    if wanted and "type" not in wanted[1] and any(sign in wanted[1] for sign in "<>"):
        return f"expected {wanted[1]}, got {_say(data)}", ""
    return f"expected {_type_name(kind)}, got {_say(data)}", ""


def _choices(kind: Any) -> list[str]:
    if typing.get_origin(kind) is typing.Annotated:
        kind = typing.get_args(kind)[0]
    return (
        [str(value) for value in typing.get_args(kind)]
        if typing.get_origin(kind) is typing.Literal
        else []
    )


_PLAIN_NAMES = {str: "a text", float: "a number", int: "a whole number", bool: "yes or no"}
_PATTERN_NAMES = {
    "^[a-z]": "a name of lower-case letters, digits and hyphens",
    "^[PBCU]": "a code such as P0410",
}


def _type_name(kind: Any) -> str:
    for part in _metas(kind):
        if part.pattern:
            return next(
                text for start, text in _PATTERN_NAMES.items() if part.pattern.startswith(start)
            )
    base = kind
    while typing.get_origin(base) is typing.Annotated or msgspec.UnsetType in typing.get_args(base):
        base = typing.get_args(base)[0]
    if typing.get_origin(base) is tuple:
        inner = typing.get_args(base)
        return "a list" if inner[-1] is Ellipsis else f"a list of {len(inner)}"
    if typing.get_origin(base) is dict:
        return "fields"
    if typing.get_origin(base) is typing.Literal:
        return "one of " + ", ".join(filter(None, _choices(base)))
    return _PLAIN_NAMES.get(base, "fields")


def _metas(kind: Any) -> list[msgspec.Meta]:
    return [part for part in typing.get_args(kind) if isinstance(part, msgspec.Meta)]


def _names(kind: type[Struct]) -> str:
    return ", ".join(item.encode_name for item in msgspec.structs.fields(kind))


def _say(data: Any) -> str:
    if isinstance(data, dict):
        return "fields"
    if isinstance(data, list):
        return f"a list of {len(data)}"
    if isinstance(data, bool):
        return "yes" if data else "no"
    text = str(data)
    return text if len(text) < 60 else text[:57] + "..."
