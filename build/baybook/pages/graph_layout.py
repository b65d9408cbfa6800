"""Places of boxes and the right-angled paths between them; the one file that knows graphlay."""

from collections.abc import Iterable
from dataclasses import dataclass

import graphlay

Point = tuple[float, float]

_LAYER_GAP = 30
_NODE_GAP = {"leftright": 22, "topbottom": 14}
_MAIN = {"weight": 8, "thickness": 5}
_SIDE = {"weight": 1, "thickness": 2}


@dataclass(frozen=True, slots=True)
class Layout:
    """Where each box has its middle, and the corners of each path in the order given [px]."""

    places: dict[str, Point]
    paths: list[list[Point]]
    width: float
    height: float


def lay_out(
    nodes: Iterable[str],
    edges: Iterable[tuple[str, str, bool]],
    box: tuple[float, float],
    *,
    down: bool,
    margin: float,
) -> Layout:
    """Place boxes in layers, the main edges as one straight line, the others at right angles.

    Parameters
    ----------
    nodes : Iterable of str
        Names of the boxes.
    edges : Iterable of tuple
        Start, end, and whether the edge belongs to the main flow.
    box : tuple of float
        Width and height of a box [px]
    down : bool
        Whether the layers follow one another downwards, or to the right.
    margin : float
        Room around the drawing [px]
    """
    direction = "topbottom" if down else "leftright"
    graph = graphlay.Graph()
    for name in nodes:
        graph.node(name, width=box[0], height=box[1])
    for start, end, main in edges:
        graph.edge(start, end, **(_MAIN if main else _SIDE))
    options = {
        "routing": {"style": "orthogonal"},
        "direction": direction,
        "spacing": {"layer_gap": _LAYER_GAP, "node_gap": _NODE_GAP[direction]},
    }
    found = graphlay.layout(graph, options=options)
    low, high = found.bounds["min"], found.bounds["max"]
    x, y = margin - low["x"], margin - low["y"]
    return Layout(
        places={
            name: (each["center"]["x"] + x, each["center"]["y"] + y)
            for name, each in zip(found.ids, found.nodes, strict=True)
        },
        paths=[[(at["x"] + x, at["y"] + y) for at in edge["points"]] for edge in found.edges],
        width=high["x"] - low["x"] + 2 * margin,
        height=high["y"] - low["y"] + 2 * margin,
    )
