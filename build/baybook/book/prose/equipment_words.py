"""What the texts of a procedure ask of a car: which equipment makes a difference to them."""

import functools

from jinja2 import nodes

from baybook.book.numbers_of_car import numbers
from baybook.book.prose.environment import environment
from baybook.book.source_types import OfCar
from baybook.book.sources.load import Book, ProcedureSource

_OF_ONE_CAR = (nodes.Filter, nodes.Test, nodes.Compare, nodes.For, nodes.Assign, nodes.Concat)
"""What could write something else for each car."""

NAMES_OF_CAR = ("name", "engine")
"""Fields of a vehicle that a text may write without being bound to one car."""


def asked_equipment(source: ProcedureSource, book: Book) -> set[str]:
    """Return the equipment that the texts of a procedure ask for with ``has``."""
    return {name for tree in _trees(source, book) for name in _names(tree, "has")}


def bound_to_car(source: ProcedureSource, book: Book) -> bool:
    """Tell whether text, network or codes of a procedure could be other ones for each car."""
    titled = {code for car in book.matches(source) for code in car.data.code_titles}
    return (
        bool(titled & set(source.data.codes))
        or any(isinstance(each.number, OfCar) for each in numbers(source.data))
        or any(_is_bound(tree) for tree in _trees(source, book))
    )


def _trees(source: ProcedureSource, book: Book) -> list[nodes.Template]:
    """Return the parsed texts of a procedure, with the shared texts that they use."""
    texts = [section.text for section in source.sections]
    seen: set[str] = set()
    trees = []
    while texts:
        tree = _parsed(texts.pop())
        trees.append(tree)
        names = _names(tree, "shared") - seen
        seen |= names
        texts += [book.shared_texts[name] for name in sorted(names)]
    return trees


@functools.lru_cache(maxsize=4096)
def _parsed(text: str) -> nodes.Template:
    return environment().parse(text)


def _names(tree: nodes.Node, function: str) -> set[str]:
    """Return the texts with which a function is called."""
    given = (call.args[0] for call in _calls(tree, function))
    return {str(each.value) for each in given if isinstance(each, nodes.Const)}


def _calls(tree: nodes.Node, name: str) -> list[nodes.Call]:
    return [
        call
        for call in tree.find_all(nodes.Call)
        if isinstance(call.node, nodes.Name) and call.node.name == name and call.args
    ]


def _is_harmless(found: nodes.Node) -> bool:
    """Tell whether a filter only moves a text to the right, as a step of a list needs it."""
    return isinstance(found, nodes.Filter) and found.name == "indent"


def _is_bound(tree: nodes.Template) -> bool:
    if any(not _is_harmless(found) for found in tree.find_all(_OF_ONE_CAR)):
        return True
    if any(not isinstance(call.args[0], nodes.Const) for call in _calls(tree, "has")):
        return True
    if list(_calls(tree, "pins")):
        return True
    plain = {id(found.node) for found in tree.find_all(nodes.Getattr) if found.attr in NAMES_OF_CAR}
    cars = [name for name in tree.find_all(nodes.Name) if name.name == "vehicle"]
    return any(id(name) not in plain for name in cars)
