"""Places the parts of a drawing in layers, each part below what leads to it (Sugiyama's way)."""

from collections.abc import Sequence
from dataclasses import dataclass, field

Edge = tuple[str, str]
_SWEEPS = 8
_PULLS = 24


@dataclass(slots=True)
class Layout:
    """Where each node stands: its layer, its place across, and the bends of long edges."""

    layer: dict[str, int]
    across: dict[str, float]
    bends: dict[Edge, list[str]] = field(default_factory=dict)


def lay_out(nodes: Sequence[str], edges: Sequence[Edge]) -> Layout:
    """Place nodes so that edges lead downwards, are short, and cross little.

    Parameters
    ----------
    nodes : Sequence[str]
        Names, in the author's order.
    edges : Sequence[tuple[str, str]]
        Pairs of names; rings are allowed.

    Returns
    -------
    Layout
        Layers from 0 downwards; places across in units of one node's width.
    """
    edges = list(dict.fromkeys(edge for edge in edges if edge[0] != edge[1]))
    downward = _without_rings(nodes, edges)
    layer = _layers(nodes, downward)
    bends, segments = _split_long(downward, layer)
    rows = _rows(layer)
    _reduce_crossings(rows, segments)
    across = _spread(rows, segments)
    turned = {
        edge: bends.get(edge) or list(reversed(bends.get((edge[1], edge[0]), []))) for edge in edges
    }
    return Layout(layer, across, turned)


def _without_rings(nodes: Sequence[str], edges: list[Edge]) -> list[Edge]:
    """Turn round the edges that close a ring."""
    after: dict[str, list[str]] = {node: [] for node in nodes}
    for start, end in edges:
        after[start].append(end)
    open_now: set[str] = set()
    seen: set[str] = set()
    turned: set[Edge] = set()

    def visit(node: str) -> None:
        seen.add(node)
        open_now.add(node)
        for end in after[node]:
            if end in open_now:
                turned.add((node, end))
            elif end not in seen:
                visit(end)
        open_now.remove(node)

    for node in nodes:
        if node not in seen:
            visit(node)
    return list(
        dict.fromkeys(
            (end, start) if (start, end) in turned else (start, end) for start, end in edges
        )
    )


def _layers(nodes: Sequence[str], edges: list[Edge]) -> dict[str, int]:
    layer = dict.fromkeys(nodes, 0)
    for _ in nodes:
        for start, end in edges:
            layer[end] = max(layer[end], layer[start] + 1)
    for node in nodes:
        below = [layer[end] for start, end in edges if start == node]
        above = any(end == node for _, end in edges)
        if below and not above:
            layer[node] = min(below) - 1
    return layer


def _split_long(
    edges: list[Edge], layer: dict[str, int]
) -> tuple[dict[Edge, list[str]], list[Edge]]:
    """Put a bend into every layer that an edge passes."""
    bends: dict[Edge, list[str]] = {}
    segments: list[Edge] = []
    for start, end in edges:
        names = [f"{start}>{end}@{row}" for row in range(layer[start] + 1, layer[end])]
        for row, name in enumerate(names, start=layer[start] + 1):
            layer[name] = row
        bends[(start, end)] = names
        segments += zip([start, *names], [*names, end], strict=True)
    return bends, segments


def _rows(layer: dict[str, int]) -> list[list[str]]:
    rows: list[list[str]] = [[] for _ in range(max(layer.values(), default=0) + 1)]
    for node, row in layer.items():
        rows[row].append(node)
    return rows


def _reduce_crossings(rows: list[list[str]], segments: list[Edge]) -> None:
    for sweep in range(_SWEEPS):
        down = sweep % 2 == 0
        for row in rows if down else reversed(rows):
            place = {node: at for other in rows for at, node in enumerate(other)}
            neighbours = _neighbours(segments, down)
            keys = {
                node: _mean([place[other] for other in neighbours.get(node, [])], place[node])
                for node in row
            }
            row.sort(key=keys.__getitem__)


def _neighbours(segments: list[Edge], down: bool) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for start, end in segments:
        node, other = (end, start) if down else (start, end)
        found.setdefault(node, []).append(other)
    return found


def _mean(values: list[int], otherwise: float) -> float:
    return sum(values) / len(values) if values else otherwise


def _width(node: str) -> float:
    return 0.35 if "@" in node else 1.0


def _spread(rows: list[list[str]], segments: list[Edge]) -> dict[str, float]:
    """Pull each node to the middle of its neighbours, keeping the order and the distances."""
    across: dict[str, float] = {}
    for row in rows:
        at = -sum(map(_width, row)) / 2
        for node in row:
            across[node] = at + _width(node) / 2
            at += _width(node)
    both: dict[str, list[str]] = {}
    for start, end in segments:
        both.setdefault(start, []).append(end)
        both.setdefault(end, []).append(start)
    for pull in range(_PULLS):
        for row in rows if pull % 2 else reversed(rows):
            _pull_row(row, across, both)
    least = min((across[node] - _width(node) / 2 for node in across), default=0.0)
    return {node: at - least for node, at in across.items()}


def _pull_row(row: list[str], across: dict[str, float], both: dict[str, list[str]]) -> None:
    wanted = {
        node: sum(across[other] for other in both[node]) / len(both[node])
        if both.get(node)
        else across[node]
        for node in row
    }
    forward = _keep_apart(row, wanted, 1)
    backward = _keep_apart(row[::-1], wanted, -1)
    for node in row:
        across[node] = (forward[node] + backward[node]) / 2


def _keep_apart(row: list[str], wanted: dict[str, float], sign: int) -> dict[str, float]:
    placed: dict[str, float] = {}
    edge = float("-inf")
    for node in row:
        half = _width(node) / 2
        at = max(sign * wanted[node], edge + half)
        placed[node] = sign * at
        edge = at + half
    return placed
