"""Learned numbers into the sources: each in its place, every other letter as it was."""

import re
from collections.abc import Mapping
from datetime import date
from typing import Any

import yaml

from baybook.book.sources.problems import Problem
from baybook.book.sources.read import Path
from baybook.book.sources.source_files import split_front_matter

LINE = "Chances learned from closed jobs"
"""How the line in the sources of a procedure begins."""


class NoPlace(Exception):
    """A value that has no place of its own in the file; says why."""


def as_written(path: Path, value: float) -> str:
    """Write a value as precisely as jobs can tell it.

    Parameters
    ----------
    path : tuple
        Its place.
    value : float
        A chance [-], a weight [-], minutes [min] or a price
    """
    if path[-1] == "minutes" or path == ("recheck",):
        return f"{round(value) if value >= 10 else max(round(2 * value) / 2, 0.5):g}"
    if path[-1] in ("often", "price"):
        return f"{float(f'{value:.3g}'):g}"
    digits = 2 if 0.1 <= value <= 0.9 else 3
    return f"{min(max(round(value, digits), 0.001), 0.999):g}"


def changed_source(
    text: str, values: Mapping[Path, float], jobs: int, day: date
) -> tuple[str, dict[Path, float], dict[Path, str]]:
    """Put values into the text of a procedure, and say in its sources where they come from.

    Parameters
    ----------
    text : str
        The whole file [-]
    values : mapping
        The new values, by place.
    jobs : int
        From how many jobs they come [-]
    day : date
        When.

    Returns
    -------
    text : str
        The file with them [-]
    written : dict
        The values as they stand there now.
    left : dict
        Those that have no place of their own in the file, with the reason.
    """
    problems: list[Problem] = []
    parts = split_front_matter(text.replace("\r\n", "\n"), "", problems)
    if parts is None:
        raise NoPlace("the file has no front matter")
    start = re.match(r"\ufeff?---[ \t]*\r?\n", text)
    assert start is not None
    end = re.compile(r"^---[ \t]*\r?$", re.MULTILINE).search(text, start.end())
    assert end is not None
    front = text[start.end() : end.start()]
    root = yaml.compose(front, yaml.SafeLoader)
    shared = _shared_nodes(root)
    edits: list[tuple[int, int, str]] = []
    written: dict[Path, float] = {}
    left: dict[Path, str] = {}
    for path, value in values.items():
        try:
            node = _scalar(root, path, shared)
        except NoPlace as error:
            left[path] = str(error)
            continue
        new = as_written(path, value)
        if float(new) != float(node.value):
            edits.append((node.start_mark.index, node.end_mark.index, new))
            written[path] = float(new)
    if written:
        edits.append(_line(root, front, f"{LINE} of this workshop: {jobs}, {day:%Y-%m-%d}."))
    for first, last, new in sorted(edits, reverse=True):
        front = front[:first] + new + front[last:]
    return text[: start.end()] + front + text[end.start() :], written, left


def _shared_nodes(root: yaml.Node | None) -> set[int]:
    """Give the nodes that stand in two places by an alias."""
    seen: set[int] = set()
    twice: set[int] = set()

    def visit(node: Any) -> None:
        if id(node) in seen:
            twice.add(id(node))
            return
        seen.add(id(node))
        if isinstance(node, yaml.MappingNode):
            for key, value in node.value:
                visit(key)
                visit(value)
        elif isinstance(node, yaml.SequenceNode):
            for item in node.value:
                visit(item)

    if root is not None:
        visit(root)
    return twice


def _scalar(root: yaml.Node | None, path: Path, shared: set[int]) -> yaml.ScalarNode:
    node: Any = root
    for step in path:
        inside = node.value if isinstance(node, yaml.MappingNode) else ()
        node = next((value for key, value in inside if key.value == step), None)
        if node is None:
            raise NoPlace("stands in no line of the file: what holds is the value that is usual")
        if id(node) in shared:
            raise NoPlace("stands in several places by an alias")
    if not isinstance(node, yaml.ScalarNode):
        raise NoPlace("is no single value")
    try:
        float(node.value)
    except ValueError:
        raise NoPlace("is a figure of the vehicle") from None
    return node


def _line(root: Any, front: str, says: str) -> tuple[int, int, str]:
    """Put the line on where the values come from into the sources, in place of an older one."""
    sources = next((value for key, value in root.value if key.value == "sources"), None)
    if not isinstance(sources, yaml.SequenceNode) or sources.flow_style or not sources.value:
        raise NoPlace("`sources` is no list of lines")
    for item in sources.value:
        for key, value in getattr(item, "value", ()):
            if key.value == "text" and value.value.startswith(LINE):
                return value.start_mark.index, value.end_mark.index, f'"{says}"'
    first, last = sources.value[0], sources.value[-1]
    indent = " " * (first.start_mark.column - 2)
    end = front.find("\n", _last_index(last) - 1)
    break_ = "\r\n" if "\r\n" in front else "\n"
    end = len(front) if end < 0 else end + 1
    text = f'{indent}- text: "{says}"{break_}{indent}  standing: workshop{break_}'
    if end == len(front) and not front.endswith("\n"):
        text = break_ + text
    return end, end, text


def _last_index(node: Any) -> int:
    """Give where the last value inside a node ends."""
    if isinstance(node, yaml.MappingNode) and node.value and not node.flow_style:
        return _last_index(node.value[-1][1])
    if isinstance(node, yaml.SequenceNode) and node.value and not node.flow_style:
        return _last_index(node.value[-1])
    return int(node.end_mark.index)
