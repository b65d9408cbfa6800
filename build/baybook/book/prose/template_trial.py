"""A trial of templates that do more than ask for figures: arithmetic, filters, loops."""

import traceback

from jinja2 import nodes

from baybook.book.prose.environment import FUNCTIONS, VALUES, fill_in
from baybook.book.prose.template_words import Wrong
from baybook.book.source_model import Vehicle

_HARMLESS = (
    nodes.Template,
    nodes.Output,
    nodes.TemplateData,
    nodes.If,
    nodes.CondExpr,
    nodes.Not,
    nodes.And,
    nodes.Or,
    nodes.Const,
    nodes.Name,
)
"""What cannot fail once its words are known."""


def may_fail(tree: nodes.Template) -> bool:
    """Tell whether a template does something that could fail when it is filled in."""
    return any(not _is_harmless(node) for node in tree.find_all(nodes.Node))


def _is_harmless(node: nodes.Node) -> bool:
    if isinstance(node, nodes.Call):
        return isinstance(node.node, nodes.Name) and node.node.name in FUNCTIONS
    if isinstance(node, nodes.Getattr):
        return isinstance(node.node, nodes.Name) and node.node.name in VALUES
    return isinstance(node, _HARMLESS)


def try_out(text: str, vehicle: Vehicle) -> Wrong | None:
    """Fill a template in for a vehicle, with place-holders for what its functions give."""

    def has(equipment: str) -> bool:
        return equipment in vehicle.has

    words = dict.fromkeys(FUNCTIONS, str) | {"has": has, "vehicle": vehicle}
    try:
        fill_in(text, words)
    # Whatever an author writes may fail in any way; it is a mistake in the source.
    except Exception as error:
        frames = traceback.extract_tb(error.__traceback__)
        lines = [frame.lineno for frame in frames if frame.filename == "<template>"]
        what = f"expected a template that can be filled in, got a fault: {error}"
        return Wrong((lines[-1] if lines else None) or 1, what)
    return None
