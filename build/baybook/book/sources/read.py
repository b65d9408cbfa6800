"""YAML into plain data, with the line of every field and all its mistakes."""

import re
from dataclasses import dataclass, field
from typing import Any

import yaml

from baybook.book.bounds import LONGEST_TEXT
from baybook.book.sources.problems import Problem
from baybook.book.sources.yaml_hints import blamed

Path = tuple[str | int, ...]

_UNSEEN = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069\ud800-\udfff]")
"""Control characters, those that turn the direction of writing, and halves of characters."""

_LIKE_YAML_1_2 = re.compile(r"0\d+|\d+:\d+(?::\d+)*|[-+]?\d+(?:\.\d*)?[eE][-+]?\d{1,3}")

_NO_BREAK = "\u00a0\u2007\u202f\u3000"

_DEEPEST = 200
_TOO_DEEP = "expected a few levels of fields, got too many or an alias of itself"

_MOST_NODES = 100_000
"""Values in one source; more come only from aliases that multiply each other."""


@dataclass(slots=True)
class Lines:
    """Where each field of a YAML text stands, by its path."""

    file: str
    first: int
    by_path: dict[Path, int] = field(default_factory=dict)
    broken: set[Path] = field(default_factory=set)
    """Fields that could not be read; what stands there now is only a place-holder."""

    def line(self, path: Path) -> int:
        """Return the line of a field, or of the nearest one around it."""
        while path and path not in self.by_path:
            path = path[:-1]
        return self.by_path.get(path, self.first)

    def rename(self, old: Path, new: Path) -> None:
        """Let the fields of a misspelt name be found under the name that was meant."""
        inside = {path: line for path, line in self.by_path.items() if path[: len(old)] == old}
        self.by_path |= {(*new, *path[len(old) :]): line for path, line in inside.items()}

    def is_broken(self, path: Path) -> bool:
        """Tell whether a field, or one around it, could not be read."""
        return any(path[:length] in self.broken for length in range(1, len(path) + 1))

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
    """Parse a YAML text into plain data, the lines of its fields, and its mistakes.

    Parameters
    ----------
    text : str
        The YAML text [-]
    file : str
        Name of the file, for the problems [-]
    first : int
        Line of the file in which the text begins [-]
    """
    reader = _Reader(Lines(file, first))
    if line := _line_too_deep(text):
        reader.add(line - 1, _TOO_DEEP)
        return None, reader.lines, reader.problems
    try:
        data = reader.read(text)
    except yaml.MarkedYAMLError as error:
        mark = error.problem_mark or error.context_mark
        line, hint = blamed(text, mark.line if mark else 0, error.problem or "")
        reader.add(line, f"expected YAML, got a fault: {_fault(error)}", hint)
        return None, reader.lines, reader.problems
    except yaml.reader.ReaderError as error:
        line = text[: error.position].count("\n")
        reader.add(line, f"expected text, got the character U+{error.character:04X}")
        return None, reader.lines, reader.problems
    except RecursionError:
        reader.add(0, _TOO_DEEP)
        return None, reader.lines, reader.problems
    return data, reader.lines, reader.problems


def _line_too_deep(text: str) -> int:
    """Return the line in which more brackets are open than any source needs, or 0.

    YAML takes seconds to find out by itself.
    """
    depth = 0
    for number, line in enumerate(text.split("\n"), 1):
        depth += line.count("[") + line.count("{") - line.count("]") - line.count("}")
        if depth > _DEEPEST:
            return number
    return 0


def _fault(error: yaml.MarkedYAMLError) -> str:
    text = error.problem or error.context or "of an unknown kind"
    return f"{error.context} {text}" if text.startswith("but ") else text


# libyaml is ten times as fast where PyYAML has it; what is wrong, PyYAML's own code tells, so
# that the sentences are the same everywhere.
_Fast: type[yaml.SafeLoader] = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


class _Reader:
    """Turns the nodes of one YAML text into plain data."""

    def __init__(self, lines: Lines) -> None:
        self.lines = lines
        self.problems: list[Problem] = []
        self.left = _MOST_NODES

    def add(self, line: int, text: str, hint: str = "", path: Path = ()) -> None:
        """Report a mistake at a line that counts from 0."""
        self.lines.broken.add(path)
        self.problems.append(
            Problem(self.lines.file, self.lines.first + line, dotted(path), text, hint)
        )

    def read(self, text: str) -> Any:
        """Return the data of a text."""
        try:
            self.loader = _Fast(text)
            node = self.loader.get_single_node()
        except yaml.YAMLError:
            self.loader = yaml.SafeLoader(text)
            node = self.loader.get_single_node()
        return None if node is None else self._plain(node, ())

    def _plain(self, node: yaml.Node, path: Path) -> Any:
        self.left -= 1
        if self.left == 0:
            self.add(0, f"expected fewer than {_MOST_NODES} values, got more", "avoid aliases")
        if self.left <= 0:
            return None
        self.lines.by_path.setdefault(path, self.lines.first + node.start_mark.line)
        if isinstance(node, yaml.MappingNode):
            return self._mapping(node, path)
        if isinstance(node, yaml.SequenceNode):
            return [self._plain(item, (*path, place)) for place, item in enumerate(node.value)]
        assert isinstance(node, yaml.ScalarNode)
        return self._scalar(node, path)

    def _scalar(self, node: yaml.ScalarNode, path: Path) -> Any:
        if _LIKE_YAML_1_2.fullmatch(node.value) and not node.style:
            # YAML 1.1 takes 0457 for 303, 1:30 for 90 and 1e3 for a text.
            return float(node.value) if "e" in node.value.lower() else node.value
        try:
            value = self.loader.construct_object(node)
            return self._text(value, node, path) if isinstance(value, str) else value
        except (yaml.YAMLError, ValueError, ArithmeticError):
            value = f"{node.value}" if node.tag.startswith("tag:") else f"{node.tag} {node.value}"
            self.add(
                node.start_mark.line,
                f"expected a plain value, got {value}",
                "put it in quotes if it is a text",
                path,
            )
            return node.value

    def _text(self, text: str, node: yaml.Node, path: Path) -> str:
        """Return a text, or report what no page could show."""
        line = node.start_mark.line
        if len(text) > LONGEST_TEXT:
            what = f"expected a text of at most {LONGEST_TEXT} letters, got {len(text)}"
            self.add(line, what, "long texts stand in the body", path)
        elif found := _UNSEEN.search(text):
            self.add(line, f"expected text, got the character U+{ord(found[0]):04X}", path=path)
        else:
            return text
        return ""

    def _mapping(self, node: yaml.MappingNode, path: Path) -> dict[str, Any]:
        data: dict[str, Any] = {}
        for key_node, value_node in node.value:
            line = key_node.start_mark.line
            if not isinstance(key_node, yaml.ScalarNode):
                self.add(line, "expected a name before the colon, got brackets", path=path)
                continue
            key = key_node.value.strip(_NO_BREAK)
            here = (*path, key)
            if key != key_node.value:
                text = f"expected a name, got one with a no-break space: {key}"
                self.add(line, text, "indent with plain spaces", here)
            if key in data:
                text = f"expected each name once, got {key} again"
                first = f"first on line {self.lines.line(here)}"
                self.add(line, f"{text} ({first})", "rename one of the two", here)
                continue
            self.lines.by_path[here] = self.lines.first + line
            data[key] = self._plain(value_node, here)
        return data
