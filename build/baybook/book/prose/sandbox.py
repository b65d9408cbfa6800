"""The sandbox in which the texts of authors are filled in: nothing is changed, all is counted."""

import functools
from collections.abc import Callable
from typing import Any

import jinja2
from jinja2 import nodes
from jinja2.exceptions import SecurityError
from jinja2.runtime import Context, LoopContext
from jinja2.sandbox import ImmutableSandboxedEnvironment
from jinja2.visitor import NodeTransformer

from baybook.book.prose.budget import counted, spend, weigh, weigh_all

FILTERS = (
    *("abs", "capitalize", "d", "default", "dictsort", "e", "escape", "first", "float", "indent"),
    *(
        "int",
        "items",
        "join",
        "last",
        "length",
        "count",
        "list",
        "lower",
        "map",
        "max",
        "min",
        "reject",
    ),
    *("rejectattr", "replace", "reverse", "round", "safe", "select", "selectattr", "sort"),
    *("string", "sum", "title", "trim", "truncate", "unique", "upper", "wordcount"),
)
"""The filters of Jinja that a text may use: none draws lots, none makes a text of a given width."""

_METHODS = {
    *("capitalize", "count", "endswith", "get", "index", "items", "keys", "lower", "removeprefix"),
    *("removesuffix", "split", "startswith", "strip", "title", "upper", "values"),
}
"""What a text may call on its values, besides its own functions."""

_COUNTED, _JOINED, _WEIGHED = "counted entries", "joined texts", "weighed value"
"""Filters that only the sandbox puts in; no author can write their names."""


class Sandbox(ImmutableSandboxedEnvironment):
    """Jinja for texts of authors, with an end to what a text may cost."""

    intercepted_binops = frozenset({"+", "-", "*", "/", "//", "%", "**"})

    def __init__(self, **options: Any) -> None:
        super().__init__(finalize=_put_out, optimized=False, **options)
        self.globals.clear()
        known = self.filters
        self.filters = {name: _weighed(known[name]) for name in FILTERS}
        self.filters["replace"] = _weighed(known["replace"], _room_for_replacing)
        self.filters["join"] = _weighed(known["join"], _room_for_joining)
        self.filters["indent"] = _weighed(known["indent"], _room_for_indenting)
        self.filters["round"] = _weighed(known["round"], _room_for_rounding)
        self.filters |= {_COUNTED: counted, _JOINED: _join_texts, _WEIGHED: weigh}

    def call_binop(self, context: Context, operator: str, left: Any, right: Any) -> Any:
        """Compute with numbers; texts and lists may only be added."""
        plain = all(isinstance(side, int | float) for side in (left, right))
        if operator == "**" and not (plain and abs(right) <= 100):
            raise SecurityError("a power is greater than 100")
        if operator in ("*", "%") and not plain:
            raise SecurityError(f"{operator} needs numbers on both sides")
        if operator == "+" and not plain:
            weigh_all((left, right))
        return weigh(super().call_binop(context, operator, left, right))

    def call(self, __context: Context, __obj: Any, *args: Any, **kwargs: Any) -> Any:
        """Call one of the functions of texts, or a harmless method of a value."""
        own = any(__obj is value for value in __context.parent.values())
        on = getattr(__obj, "__self__", None)
        plain = isinstance(on, str | dict | list | tuple | LoopContext)
        if own or (plain and getattr(__obj, "__name__", "") in _METHODS):
            return weigh(super().call(__context, __obj, *args, **kwargs))
        raise SecurityError(f"{getattr(__obj, '__name__', '?')} may not be called")

    def _generate(
        self,
        source: nodes.Template,
        name: str | None,
        filename: str | None,
        defer_init: bool = False,
    ) -> str:
        return super()._generate(_Counting().visit(source), name, filename, defer_init)


class _Counting(NodeTransformer):
    """Puts the counting into a template: entries of loops, joined texts, slices."""

    def visit(self, node: nodes.Node, *args: Any, **kwargs: Any) -> Any:
        """Let each round of a loop cost what its body costs, and each text its letters."""
        cost = sum(map(_cost, node.find_all(nodes.Node))) if isinstance(node, nodes.For) else 0
        self.generic_visit(node, *args, **kwargs)
        if isinstance(node, nodes.For):
            node.iter = _filter(node.iter, _COUNTED, nodes.Const(1 + cost))
        elif isinstance(node, nodes.Concat):
            return _filter(nodes.List(node.nodes), _JOINED)
        elif isinstance(node, nodes.Getitem) and isinstance(node.arg, nodes.Slice):
            return _filter(node, _WEIGHED)
        return node


def _filter(node: Any, name: str, *args: nodes.Expr) -> nodes.Filter:
    return nodes.Filter(node, name, list(args), [], None, None, lineno=node.lineno)


def _cost(node: nodes.Node) -> int:
    return len(node.data) if isinstance(node, nodes.TemplateData) else 1


def _put_out(value: Any) -> str:
    text = value if isinstance(value, str) else str(value)
    spend(1 + len(text))
    return text


def _join_texts(values: list[Any]) -> str:
    weigh_all(values)
    texts = [str(value) for value in values]
    weigh_all(texts)
    return str(weigh("".join(texts)))


def _weighed(
    function: Callable[..., Any], room: Callable[..., int] | None = None
) -> Callable[..., Any]:
    """Count what a filter reads and what it gives."""

    @functools.wraps(function)
    def counting(*args: Any, **kwargs: Any) -> Any:
        given = [value for value in args if not isinstance(value, jinja2.Environment | Context)]
        weigh_all(value for value in given if isinstance(value, str | list | tuple))
        if room:
            spend(room(*given, **kwargs))
        return weigh(function(*args, **kwargs))

    return counting


def _room_for_replacing(*args: Any, **_: Any) -> int:
    texts = [str(value) for value in args if isinstance(value, str | int | float)]
    return len(texts[0]) * len(texts[-1]) if len(texts) > 2 else 0


def _room_for_indenting(text: Any, width: Any = 4, *_: Any, **__: Any) -> int:
    blanks = width if isinstance(width, int) else len(str(width))
    return blanks * (1 + str(text).count("\n"))


def _room_for_rounding(*args: Any, **named: Any) -> int:
    digits = [*args[1:2], named.get("precision", 0)]
    return sum(10**6 for number in digits if not isinstance(number, int) or abs(number) > 15)


def _room_for_joining(*args: Any, **_: Any) -> int:
    values, *rest = [value for value in args if isinstance(value, str | list | tuple)] or [""]
    return len(values) * len(str(rest[0])) if rest else 0
