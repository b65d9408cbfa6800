"""The drawn system: the main flow as one straight line, what feeds it at right angles.

What the control unit switches and reads is no line but a tag on the part, and the unit stands as
a box apart; so a drawing stays readable. It is drawn twice: to the right for a wide page, downwards
for a phone.
"""

import itertools
import textwrap
from collections.abc import Iterable
from dataclasses import dataclass

from markupsafe import Markup

from baybook.book.car import CarProcedure
from baybook.pages.graph_layout import Layout, Point, lay_out
from baybook.pages.render import html

_MARGIN = 16.0
_LETTERS_A_LINE = 12
_MOST_LINES = 3
_MAIN = ("air", "exhaust", "coolant", "fuel", "fuel-vapor")
"""Flows that can be the straight line of a drawing, the first one of a system."""

_TAGGED = ("control", "signal")
"""Flows between the control unit and a part: tags, where the system has others too."""

_LETTERS = {
    "air": "A",
    "vacuum": "V",
    "power": "P",
    "control": "C",
    "signal": "S",
    "exhaust": "E",
    "fuel": "L",
    "fuel-vapor": "F",
    "coolant": "W",
}
"""The letter of each flow; with the line's pattern it tells the flows apart without colour."""

Join = tuple[str, str, str]
"""Flow, start and end."""


@dataclass(frozen=True, slots=True)
class Box:
    """A part as drawn: its corner, its words, its tag, and the first test that looks at it."""

    part: str
    x: float
    y: float
    middle: float
    lines: list[tuple[str, float]]
    tag: str
    hub: bool
    test: str


@dataclass(frozen=True, slots=True)
class Path:
    """A path between two parts as drawn, with its letter."""

    flow: str
    line: str
    letter: str
    letter_x: float
    letter_y: float


def diagram_html(car: CarProcedure) -> Markup:
    """Draw the paths of a system, with the same as a list of what leads where."""
    joins: list[Join] = [
        (flow, name, target)
        for name, part in car.parts.items()
        for flow, targets in part.joins.items()
        for target in targets
        if target in car.parts
    ]
    flows = dict.fromkeys(join[0] for join in joins)
    return html(
        "diagram.html.j2",
        title=car.source.data.title,
        drawings=[_Drawing(car, joins, down=down).values() for down in (False, True)],
        legend=[(flow, _letter(flow)) for flow in flows],
        words=[(flow, car.parts[start].name, car.parts[end].name) for flow, start, end in joins],
        tagged=bool(_tags(joins)),
    )


def _letter(flow: str) -> str:
    return _LETTERS.get(flow, flow[:1].upper())


def _tags(joins: list[Join]) -> dict[str, str]:
    """Return what the control unit does to each part, where that is drawn as a tag."""
    if all(flow in _TAGGED for flow, _, _ in joins):
        return {}
    switched = {end: "switched" for flow, _, end in joins if flow == "control"}
    return switched | {start: "read" for flow, start, _ in joins if flow == "signal"}


class _Drawing:
    """One drawing of a system, to the right or downwards."""

    def __init__(self, car: CarProcedure, joins: list[Join], *, down: bool) -> None:
        self.car = car
        self.down = down
        self.size = (110.0, 80.0) if down else (100.0, 82.0)
        self.tags = _tags(joins)
        self.drawn = [join for join in joins if not self.tags or join[0] not in _TAGGED]
        self.hubs = self._hubs(joins)
        main = next((flow for flow in _MAIN if any(join[0] == flow for join in joins)), "")
        self.main = {main, "exhaust"}
        self.joins = joins

    def _hubs(self, joins: list[Join]) -> list[str]:
        """Return the parts that switch and read others, and have no path of their own."""
        if not self.tags:
            return []
        ends = {name for join in self.drawn for name in join[1:]}
        found = [start for flow, start, _ in joins if flow == "control"]
        found += [end for flow, _, end in joins if flow == "signal"]
        return [name for name in dict.fromkeys(found) if name not in ends]

    def values(self) -> dict[str, object]:
        """Return what the template draws."""
        names = dict.fromkeys(name for join in self.joins for name in join[1:])
        nodes = [name for name in names if name not in self.hubs]
        edges = [(start, end, flow in self.main) for flow, start, end in self.drawn]
        layout = lay_out(nodes, edges, self.size, down=self.down, margin=_MARGIN)
        width, height = self._place_hubs(layout)
        return {
            "name": "down" if self.down else "right",
            "width": round(width),
            "height": round(height),
            "box_width": self.size[0],
            "box_height": self.size[1],
            "boxes": [self._box(name, layout.places[name]) for name in names],
            "paths": [
                _path(flow, points)
                for (flow, _, _), points in zip(self.drawn, layout.paths, strict=True)
            ],
        }

    def _place_hubs(self, layout: Layout) -> Point:
        """Put the control unit into the first free corner, or beside the drawing."""
        width, height = layout.width, layout.height
        for hub in self.hubs:
            spot = self._free(layout.places.values(), width, height)
            layout.places[hub] = spot
            width = max(width, spot[0] + self.size[0] / 2 + _MARGIN)
            height = max(height, spot[1] + self.size[1] / 2 + _MARGIN)
        return width, height

    def _free(self, taken: Iterable[Point], width: float, height: float) -> Point:
        across, along = self.size[0] / 2 + _MARGIN, self.size[1] / 2 + _MARGIN
        places = list(taken)
        for y in (height - along, along) if self.down else (along, height - along):
            for x in (width - across, across):
                if all(
                    abs(x - other[0]) >= self.size[0] + 10 or abs(y - other[1]) >= self.size[1] + 10
                    for other in places
                ):
                    return x, y
        return (across, height + along) if self.down else (width + across, along)

    def _box(self, name: str, place: Point) -> Box:
        x, y = place
        lines = textwrap.wrap(
            self.car.parts[name].name,
            _LETTERS_A_LINE,
            max_lines=_MOST_LINES,
            placeholder=" …",
            break_on_hyphens=True,
        )
        first = y - (len(lines) - 1) * 8.5 + 6
        return Box(
            part=name,
            x=x - self.size[0] / 2,
            y=y - self.size[1] / 2,
            middle=x,
            lines=[(line, first + 17 * at) for at, line in enumerate(lines)],
            tag=self.tags.get(name, ""),
            hub=name in self.hubs,
            test=self._test_of(name),
        )

    def _test_of(self, part: str) -> str:
        """Return the first test that shows a fault of a part."""
        faults = {name for name, fault in self.car.faults.items() if fault.part == part}
        return next(
            (
                name
                for name, test in self.car.tests.items()
                if any(not faults.isdisjoint(seen.shows) for seen in test.observations.values())
            ),
            "",
        )


def _path(flow: str, points: list[Point]) -> Path:
    longest = max(
        itertools.pairwise(points),
        key=lambda leg: abs(leg[0][0] - leg[1][0]) + abs(leg[0][1] - leg[1][1]),
    )
    upright = abs(longest[0][0] - longest[1][0]) < 1  # its letter stands beside it, else above
    return Path(
        flow=flow,
        line="M" + "L".join(f"{x:.0f} {y:.0f}" for x, y in points),
        letter=_letter(flow),
        letter_x=(longest[0][0] + longest[1][0]) / 2 + (11 if upright else 0),
        letter_y=(longest[0][1] + longest[1][1]) / 2 + (5 if upright else -6),
    )
