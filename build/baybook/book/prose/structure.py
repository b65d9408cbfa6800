"""How a template is built: too deep, too long, or of pieces that could run without an end."""

from jinja2 import nodes

DEEPEST = 60
"""Pieces of a template inside one another [-]."""

TOO_DEEP = f"expected at most {DEEPEST} brackets or conditions inside one another, got more"

MOST_PIECES = 5000
"""Pieces of one template [-]."""

LONGEST_WORD = 2000
"""Letters of a text between quotes [-]."""

TOO_MANY = f"expected at most {MOST_PIECES} pieces of a template, got more"

_MACROS = (nodes.Macro, nodes.CallBlock)
_LISTS = (nodes.List, nodes.Tuple, nodes.Dict)
_PLAIN = (nodes.Const, nodes.Pair, *_LISTS)


def structure_problem(tree: nodes.Template) -> tuple[int, str] | None:
    """Return the line and the sentence of what is wrong with the shape of a template."""
    pieces = 0
    level: list[nodes.Node] = [tree]
    for _ in range(DEEPEST):
        pieces += len(level)
        if pieces > MOST_PIECES:
            return level[0].lineno or 1, TOO_MANY
        level = [child for node in level for child in node.iter_child_nodes()]
        if not level:
            return _problem_of_a_piece(tree)
    return level[0].lineno or 1, TOO_DEEP


def _problem_of_a_piece(tree: nodes.Template) -> tuple[int, str] | None:
    for node in tree.find_all(nodes.Node):
        if isinstance(node, _MACROS):
            return node.lineno, "expected no macro, got one"
        if isinstance(node, nodes.For) and node.recursive:
            return node.lineno, "expected no recursive loop, got one"
        if isinstance(node, nodes.Const) and isinstance(node.value, str):
            if len(node.value) > LONGEST_WORD:
                most, got = LONGEST_WORD, len(node.value)
                text = f"expected at most {most} letters between quotes, got {got}"
                return node.lineno, text
        elif isinstance(node, _LISTS) and not _is_plain(node):
            return node.lineno, "expected plain values in a list, got an expression"
    return None


def _is_plain(node: nodes.Node) -> bool:
    if getattr(node, "ctx", "load") != "load":
        return True  # the names that a loop gives to its entries
    return all(isinstance(child, _PLAIN) for child in node.find_all(nodes.Node))
