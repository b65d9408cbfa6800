"""A text's template taken apart: what is wrong with it in itself, and what it asks of a car."""

import functools
import re
from collections.abc import Iterator
from dataclasses import dataclass

import jinja2
import msgspec
from jinja2 import nodes

from baybook.book.prose.environment import FUNCTIONS, MORE, VALUES, environment
from baybook.book.prose.structure import TOO_DEEP, structure_problem
from baybook.book.source_model import Vehicle
from baybook.book.sources.load import VehicleSource
from baybook.book.sources.problem_report import name_hint

_LOADERS = (nodes.Include, nodes.Import, nodes.FromImport, nodes.Extends)


@dataclass(frozen=True, slots=True)
class Wrong:
    """A mistake in a template; the line counts from 1 in its text."""

    line: int
    text: str
    hint: str = ""


@dataclass(frozen=True, slots=True)
class WordCall:
    """One call of a function with a text, such as ``figure("air-pump-current")``."""

    line: int
    function: str
    argument: str
    more: tuple[str, ...] = ()


@functools.lru_cache(maxsize=256)  # shared texts are asked for again and again
def parse(text: str) -> nodes.Template | Wrong:
    """Parse a text, or say why it cannot be."""
    curly = _CURLY.search(text)
    if curly:
        line = text.count("\n", 0, curly.start(1)) + 1
        what = f"expected straight quotes in braces, got {curly[1]}"
        return Wrong(line, what, 'write "..." with straight quotes')
    try:
        tree = environment().parse(text)
    except RecursionError:
        return Wrong(1, TOO_DEEP)
    except jinja2.TemplateSyntaxError as error:
        return _unclosed(text) or Wrong(
            error.lineno,
            f"expected a template that can be read, got: {error.message}",
            "{{ ... }} holds a value, {% ... %} a condition, {# ... #} a remark",
        )
    problem = structure_problem(tree)
    return Wrong(*problem) if problem else tree


_CURLY = re.compile(r"\{[{%][^{}]*?([“”„‟‘’])[^{}]*?[}%]\}")
_TAG = re.compile(r"\{%[-+]?\s*(end)?(if|for)\b")


def _unclosed(text: str) -> Wrong | None:
    """Find the condition or loop that stays open at the end of a text."""
    opened: list[re.Match[str]] = []
    for tag in _TAG.finditer(text):
        if not tag[1]:
            opened.append(tag)
        elif opened and opened[-1][2] == tag[2]:
            opened.pop()
    if not opened:
        return None
    line = text.count("\n", 0, opened[-1].start()) + 1
    return Wrong(line, f"expected {{% end{opened[-1][2]} %}} in the same section, got none")


def wrong_words(tree: nodes.Template) -> Iterator[Wrong]:
    """Find the mistakes of a template that no car could mend."""
    names = list(tree.find_all(nodes.Name))
    own = {name.name for name in names if name.ctx != "load"} | {"loop"}
    unquoted = {id(name) for call in _unquoted(tree) for name in call.find_all(nodes.Name)}
    names = [name for name in names if id(name) not in unquoted]
    unknown = {name.name for name in names} - own - {*FUNCTIONS, *VALUES}
    called = {id(call.node) for call in tree.find_all(nodes.Call)}
    for name in names:
        if name.name in unknown:
            hint = name_hint(name.name, (*FUNCTIONS, *VALUES))
            yield Wrong(name.lineno, f"expected a word of templates, got {name.name}", hint)
        elif name.name in FUNCTIONS and name.ctx == "load" and id(name) not in called:
            yield Wrong(name.lineno, f'expected {name.name}("..."), got {name.name} alone')
    for call in tree.find_all(nodes.Call):
        yield from _wrong_call(call)
    yield from _wrong_filters(tree)
    yield from _wrong_attributes(tree)
    for loader in tree.find_all(_LOADERS):
        yield Wrong(
            loader.lineno,
            f"expected no other template, got {type(loader).__name__.lower()}",
            'a shared piece of text is written {{ shared("...") }}',
        )


def _unquoted(tree: nodes.Template) -> Iterator[nodes.Call]:
    """Find the calls whose text lacks its quotes, such as ``figure(cap-torque)``."""
    for call in tree.find_all(nodes.Call):
        if _is_function(call) and len(call.args) == 1 and _bare(call.args[0]):
            yield call


def _is_function(call: nodes.Call) -> bool:
    return isinstance(call.node, nodes.Name) and call.node.name in FUNCTIONS


def _bare(node: nodes.Node) -> str:
    """Return a name with hyphens as it was written without quotes."""
    if isinstance(node, nodes.Sub):
        left, right = _bare(node.left), _bare(node.right)
        return f"{left}-{right}" if left and right else ""
    if isinstance(node, nodes.Const) and isinstance(node.value, int):
        return str(node.value)
    return node.name if isinstance(node, nodes.Name) and node.ctx == "load" else ""


def _wrong_call(call: nodes.Call) -> Iterator[Wrong]:
    if not isinstance(call.node, nodes.Name) or call.node.name not in FUNCTIONS:
        return
    name = call.node.name
    bare = _bare(call.args[0]) if len(call.args) == 1 else ""
    if bare and not isinstance(call.args[0], nodes.Const):
        text = f'expected {name}("...") with a text, got {bare}'
        yield Wrong(call.lineno, text, f'quotes are missing: {name}("{bare}")')
        return
    least, most = MORE.get(name, (1, 1))
    if not least <= len(call.args) <= most or call.kwargs or call.dyn_args or call.dyn_kwargs:
        got = len(call.args) + len(call.kwargs)
        many = "one text" if most == 1 else f"{least} to {most} texts"
        yield Wrong(call.lineno, f'expected {name}("...") with {many}, got {got} values')
    elif isinstance(call.args[0], nodes.Const) and not isinstance(call.args[0].value, str):
        yield Wrong(call.lineno, f'expected {name}("...") with a text, got {call.args[0].value}')


def _wrong_filters(tree: nodes.Template) -> Iterator[Wrong]:
    for found in tree.find_all(nodes.Filter):
        if found.name not in environment().filters:
            hint = name_hint(found.name, environment().filters)
            yield Wrong(found.lineno, f"expected a filter of Jinja, got {found.name}", hint)
    for test in tree.find_all(nodes.Test):
        if test.name not in environment().tests:
            hint = name_hint(test.name, environment().tests)
            yield Wrong(test.lineno, f"expected a test of Jinja, got {test.name}", hint)


def _wrong_attributes(tree: nodes.Template) -> Iterator[Wrong]:
    known = [item.name for item in msgspec.structs.fields(Vehicle)]
    for found in tree.find_all(nodes.Getattr):
        on_vehicle = isinstance(found.node, nodes.Name) and found.node.name == "vehicle"
        if on_vehicle and found.attr not in known:
            hint = name_hint(found.attr, known)
            yield Wrong(found.lineno, f"expected a field of a vehicle, got {found.attr}", hint)


def asked(tree: nodes.Node, car: VehicleSource | None) -> Iterator[WordCall]:
    """Return what a template asks for, along the branches that are taken for a car.

    A condition is decided where it is made of ``has``, ``not``, ``and`` and ``or``; of any
    other one, and without a car, both branches count.
    """
    call = _plain_call(tree)
    if call:
        yield call
    taken = _taken(tree, car) if isinstance(tree, nodes.If | nodes.CondExpr) else None
    for child in tree.iter_child_nodes() if taken is None else taken:
        yield from asked(child, car)


def _taken(tree: nodes.If | nodes.CondExpr, car: VehicleSource | None) -> list[nodes.Node]:
    """Return the conditions that are asked and the branches that may follow."""
    arms, otherwise = _arms(tree)
    taken: list[nodes.Node] = []
    for test, branch in arms:
        truth = _truth(test, car)
        taken += [test] if truth is False else [test, *branch]
        if truth:
            return taken
    return [*taken, *otherwise]


def _arms(
    tree: nodes.If | nodes.CondExpr,
) -> tuple[list[tuple[nodes.Node, list[nodes.Node]]], list[nodes.Node]]:
    if isinstance(tree, nodes.If):
        return [(arm.test, [*arm.body]) for arm in (tree, *tree.elif_)], tree.else_
    return [(tree.test, [tree.expr1])], [tree.expr2] if tree.expr2 else []


def _plain_call(node: nodes.Node) -> WordCall | None:
    if not isinstance(node, nodes.Call) or not _is_function(node):
        return None
    texts = [arg.value for arg in node.args if isinstance(arg, nodes.Const)]
    if not texts or len(texts) != len(node.args) or not all(isinstance(t, str) for t in texts):
        return None
    assert isinstance(node.node, nodes.Name)
    return WordCall(node.lineno, node.node.name, texts[0], tuple(texts[1:]))


def _truth(node: nodes.Node, car: VehicleSource | None) -> bool | None:
    call = _plain_call(node)
    if call and call.function == "has" and car:
        return call.argument in car.data.has
    if isinstance(node, nodes.Not):
        inner = _truth(node.node, car)
        return None if inner is None else not inner
    if isinstance(node, nodes.And | nodes.Or):
        both = {_truth(node.left, car), _truth(node.right, car)}
        decides = isinstance(node, nodes.Or)
        return decides if decides in both else None if None in both else not decides
    return None
