"""Small changes to a module of Python, each of which its tests ought to notice."""

import ast
import re
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

COMPARISONS = {
    ast.Lt: "<=",
    ast.LtE: "<",
    ast.Gt: ">=",
    ast.GtE: ">",
    ast.Eq: "!=",
    ast.NotEq: "==",
    ast.Is: "is not",
    ast.IsNot: "is",
    ast.In: "not in",
    ast.NotIn: "in",
}
OPERATORS = {
    ast.Add: "-",
    ast.Sub: "+",
    ast.Mult: "/",
    ast.Div: "*",
    ast.FloorDiv: "*",
    ast.Mod: "*",
    ast.Pow: "*",
    ast.And: "or",
    ast.Or: "and",
}
BETWEEN = re.compile(rb"^([\s)]*)(\*\*|//|is not|not in|[<>=!]=|[a-z]+|[-+*/%<>|&^@])([\s(]*)$")
"""What stands between two operands: an operator alone, with brackets around."""

DROPPED = (ast.Expr, ast.AugAssign, ast.Raise, ast.Continue, ast.Break)


@dataclass(frozen=True, order=True)
class Change:
    """Bytes of a file from `start` to `end` that become `new`."""

    path: str
    line: int
    kind: str
    start: int
    end: int
    new: bytes

    def applied(self, source: bytes) -> bytes:
        return source[: self.start] + self.new + source[self.end :]

    def told(self, source: bytes) -> str:
        """Return the line before and after, without its place in the file."""
        before, after = (" ".join(text.split()) for text in self._lines(source))
        return f"{self.path}: {before} -> {after}"

    def _lines(self, source: bytes) -> tuple[str, str]:
        first = source.rfind(b"\n", 0, self.start) + 1
        last = source.find(b"\n", self.end)
        after = source[first : self.start] + self.new + source[self.end : last]
        return source[first:last].decode(), after.decode()


def changes(path: str, source: bytes) -> Iterator[Change]:
    """Find every change that can be made to a module."""
    starts = [0, *(found.end() for found in re.finditer(b"\n", source))]

    def place(line: int, column: int) -> int:
        return starts[line - 1] + column

    def between(kind: str, left: ast.expr, right: ast.expr, new: str) -> Iterator[Change]:
        start = place(left.end_lineno or 0, left.end_col_offset or 0)
        found = BETWEEN.match(source[start : place(right.lineno, right.col_offset)])
        if found:
            yield Change(
                path, right.lineno, kind, start + found.start(2), start + found.end(2), new.encode()
            )

    def whole(kind: str, node: ast.expr | ast.stmt, new: str) -> Change:
        start = place(node.lineno, node.col_offset)
        end = place(node.end_lineno or 0, node.end_col_offset or 0)
        return Change(path, node.lineno, kind, start, end, new.encode())

    for node in _looked_at(ast.parse(source)):
        if isinstance(node, ast.Compare):
            operands = [node.left, *node.comparators]
            for (left, right), operator in zip(pairwise(operands), node.ops, strict=True):
                yield from between("comparison", left, right, COMPARISONS[type(operator)])
        elif isinstance(node, ast.BinOp) and type(node.op) in OPERATORS and not _is_text(node):
            yield from between("operator", node.left, node.right, OPERATORS[type(node.op)])
        elif isinstance(node, ast.BoolOp):
            for left, right in pairwise(node.values):
                yield from between("operator", left, right, OPERATORS[type(node.op)])
        elif isinstance(node, ast.Constant) and type(node.value) in (bool, int, float):
            yield whole("constant", node, _other(node.value))
        elif isinstance(node, ast.If | ast.IfExp):
            text = ast.get_source_segment(source.decode(), node.test)
            yield whole("comparison", node.test, f"(not ({text}))")
        elif isinstance(node, DROPPED) and not _is_docstring(node):
            yield whole("dropped line", node, "pass")


def _looked_at(tree: ast.AST) -> Iterator[ast.AST]:
    """Walk what runs: neither types nor decorators, nor what a module does as a program."""
    for child in ast.iter_child_nodes(tree):
        if isinstance(child, ast.If) and "__name__" in ast.dump(child.test):
            continue
        yield child
        yield from _looked_at(_without_types(child))


def _without_types(node: ast.AST) -> ast.AST:
    if isinstance(node, ast.FunctionDef | ast.ClassDef):
        node.decorator_list = []
    if isinstance(node, ast.FunctionDef):
        node.returns = None
    if isinstance(node, ast.arg):
        node.annotation = None
    if isinstance(node, ast.AnnAssign):
        node.annotation = ast.Name("object")
    return node


def _is_text(node: ast.BinOp) -> bool:
    """Tell whether a sum is one of texts, or a union of types."""
    sides = (node.left, node.right)
    return any(
        isinstance(side, ast.JoinedStr)
        or (isinstance(side, ast.Constant) and isinstance(side.value, str | bytes))
        for side in sides
    )


def _is_docstring(node: ast.AST) -> bool:
    return isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)


def _other(value: float) -> str:
    if isinstance(value, bool):
        return str(not value)
    if isinstance(value, int):
        return str(value + 1)
    return repr(value * 1.01 if value else 0.01)
