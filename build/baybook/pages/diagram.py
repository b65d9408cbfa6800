"""The drawn system: air, vacuum, power and control paths between the parts of one car."""

import itertools
import textwrap
from dataclasses import dataclass

from markupsafe import Markup

from baybook.book.car import CarProcedure
from baybook.pages.layered_layout import Layout, lay_out
from baybook.pages.render import PX_PER_REM, html

_NODE = 138.0
_NODE_HEIGHT = 48.0
_CELL = 156.0
_ROW = 92.0
_MARGIN = 14.0
_NATURAL = 16.0 / 13.5
"""Letters of 13.5 units are drawn 16 px high where there is room [px per unit]."""

_LETTERS = {
    "air": "A",
    "vacuum": "V",
    "power": "P",
    "control": "C",
    "signal": "S",
    "exhaust": "E",
    "fuel": "L",
    "fuel-vapour": "F",
    "coolant": "W",
}
"""The letter on each path; with the line's pattern it tells the paths apart without colour."""


@dataclass(frozen=True, slots=True)
class Box:
    """A part as drawn."""

    x: float
    y: float
    lines: list[str]


@dataclass(frozen=True, slots=True)
class Path:
    """A path between two parts as drawn, with the place of its letter."""

    flow: str
    letter: str
    line: str
    x: float
    y: float


def diagram_html(car: CarProcedure) -> Markup:
    """Draw the paths of a system for one car, with the same as a list of what leads where."""
    joins: list[tuple[str, str, str]] = [
        (flow, name, target)
        for name, part in car.parts.items()
        for flow, targets in part.joins.items()
        for target in targets
        if target in car.parts
    ]
    nodes = list(dict.fromkeys(name for join in joins for name in join[1:]))
    # A signal leads back to what commands: it is laid out against its direction.
    laid = [(end, start) if flow == "signal" else (start, end) for flow, start, end in joins]
    layout = lay_out(nodes, laid)
    flows = [flow for flow in _LETTERS if any(join[0] == flow for join in joins)]
    width = _MARGIN * 2 + _CELL * max(layout.across.values(), default=0) + _NODE / 2
    return html(
        "diagram.html.j2",
        title=car.source.data.title,
        width=width,
        natural=width * _NATURAL / PX_PER_REM,
        height=_MARGIN * 2
        + _ROW * max((layout.layer[name] for name in nodes), default=0)
        + _NODE_HEIGHT,
        half=_NODE / 2,
        box_width=_NODE,
        box_height=_NODE_HEIGHT,
        boxes=[_box(car.parts[name].name, name, layout) for name in nodes],
        paths=_paths(joins, layout),
        legend=[(flow, _LETTERS[flow]) for flow in flows],
        words=[(flow, car.parts[start].name, car.parts[end].name) for flow, start, end in joins],
    )


def _at(name: str, layout: Layout) -> tuple[float, float]:
    x = _MARGIN + _CELL * layout.across[name]
    return x, _MARGIN + _ROW * layout.layer[name] + _NODE_HEIGHT / 2


def _box(text: str, name: str, layout: Layout) -> Box:
    x, y = _at(name, layout)
    return Box(x, y, textwrap.wrap(text, 19, max_lines=3, placeholder=" …"))


def _paths(joins: list[tuple[str, str, str]], layout: Layout) -> list[Path]:
    pairs: dict[frozenset[str], int] = {}
    paths = []
    for flow, start, end in joins:
        if start == end:
            continue
        pair = frozenset((start, end))
        aside = pairs.get(pair, 0)
        pairs[pair] = aside + 1
        paths.append(_path(flow, start, end, layout, aside))
    return paths


def _path(flow: str, start: str, end: str, layout: Layout, aside: int) -> Path:
    shift = 22.0 * ((aside + 1) // 2) * (1 if aside % 2 else -1)
    bends = layout.bends.get((start, end)) or layout.bends.get((end, start), [])[::-1]
    stops = [_at(name, layout) for name in (start, *bends, end)]
    stops = [(x + shift, y) for x, y in stops]
    sign = 1 if stops[-1][1] > stops[0][1] else -1  # no path stays in one layer
    stops[0] = (stops[0][0], stops[0][1] + sign * _NODE_HEIGHT / 2)
    stops[-1] = (stops[-1][0], stops[-1][1] - sign * (_NODE_HEIGHT / 2 + 3))
    line = f"M{stops[0][0]:.1f} {stops[0][1]:.1f}"
    for (x0, y0), (x1, y1) in itertools.pairwise(stops):
        middle = (y0 + y1) / 2
        line += f" C{x0:.1f} {middle:.1f} {x1:.1f} {middle:.1f} {x1:.1f} {y1:.1f}"
    (x0, y0), (x1, y1) = stops[:2]
    return Path(flow, _LETTERS[flow], line, (x0 + x1) / 2, (y0 + y1) / 2)
