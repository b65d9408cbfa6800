"""A small plotter: curves, bands, limits and points on linear or log axes, as SVG text.

The drawing is 360 units wide, so that its text has the size of the text around it on a
narrow telephone. It holds no colors: the classes ``plot-axis``, ``plot-grid``,
``plot-curve``, ``plot-band``, ``plot-limit``, ``plot-point``, ``plot-label`` and ``plot-beside``
are for the style sheet, and lines differ by their dashes, so that it prints in black and white.
It holds no ids either, so that one page can carry it twice.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from html import escape

from baycalc.quantities import units
from baycalc.quantities.kinds import Kind
from baycalc.quantities.units import significant

_WIDTH = 360
_AREA_HEIGHT = 190
_LEFT, _RIGHT, _TOP = 50, 14, 24
_RIGHT_WITH_SCALE = 46
_BELOW = 44
_ROW = 18
_FAR = 4000.0
_DASHES = {"": "", "second": "6 3", "third": "2 3", "fourth": "8 3 2 3"}
STYLES = tuple(_DASHES)
"""Styles of curves, told apart by their dashes."""

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Axis:
    """One axis: what it shows, from where to where, in the unit that is written.

    Parameters
    ----------
    label : str
        What it shows
    low : float
        Value at its low end [unit of the axis]
    high : float
        Value at its high end [unit of the axis]
    log : bool
        Whether each step multiplies
    unit : str
        Unit as it is written, or empty
    also : tuple
        A second unit for the opposite side: its text, and how many of it make one of the first
        [-]
    taken_in : Unit
        What turns the points that are drawn from SI into the unit of the axis, or ``None``
    """

    label: str
    low: float
    high: float
    log: bool = False
    unit: str = ""
    also: tuple[str, float] | None = None
    taken_in: units.Unit | None = None

    @classmethod
    def of(cls, text: str, kind: Kind, low: float, high: float, *, log: bool = False) -> "Axis":
        """Return an axis whose points are in SI, written in the units of a kind.

        Parameters
        ----------
        text : str
            What it shows
        kind : Kind
            Kind of quantity, with the unit of the axis and maybe a second one
        low : float
            Value at its low end [SI unit of the kind]
        high : float
            Value at its high end [SI unit of the kind]
        log : bool
            Whether each step multiplies
        """
        first, *others = (units.installed().unit(kind.name, symbol) for symbol in kind.pair)
        also = (
            (units.label(others[0].symbol), others[0].from_si(1) / first.from_si(1))
            if others
            else None
        )
        ends = first.from_si(low), first.from_si(high)
        return cls(text, *ends, log=log, unit=units.label(first.symbol), also=also, taken_in=first)

    def place(self, value: float) -> float:
        """Return where a point that is drawn lies, from 0 at the low end to 1 at the high end.

        Parameters
        ----------
        value : float
            The point [SI for an axis of a kind, or the unit of the axis]

        Returns
        -------
        float
            Share of the axis, outside 0 to 1 for a point beyond it [-]
        """
        return self.share(self.taken_in.from_si(value) if self.taken_in else value)

    def __post_init__(self) -> None:
        if not self.low < self.high or (self.log and self.low <= 0):
            raise ValueError(f"axis {self.label}: no scale from {self.low} to {self.high}")

    def share(self, value: float) -> float:
        """Return where a value lies, from 0 at the low end to 1 at the high end.

        Parameters
        ----------
        value : float
            Value in the axis' unit [-]

        Returns
        -------
        float
            Share of the axis, outside 0 to 1 for a value beyond it [-]
        """
        if not self.log:
            return (value - self.low) / (self.high - self.low)
        if value <= 0:
            return -_FAR
        return math.log(value / self.low) / math.log(self.high / self.low)

    def title(self) -> str:
        """Return the label with its unit."""
        return f"{self.label}, {self.unit}" if self.unit else self.label


def ticks(axis: Axis, factor: float = 1.0) -> list[float]:
    """Return round values along an axis, in a unit of which ``factor`` make the axis' own.

    Parameters
    ----------
    axis : Axis
        The axis
    factor : float
        Units to write per unit of the axis [-]

    Returns
    -------
    list
        Values in the unit to write, rising [-]
    """
    low, high = axis.low * factor, axis.high * factor
    return _log_ticks(low, high) if axis.log else _linear_ticks(low, high)


def _linear_ticks(low: float, high: float) -> list[float]:
    rough = (high - low) / 5
    power = 10.0 ** math.floor(math.log10(rough))
    step = next(power * many for many in (1, 2, 5, 10) if power * many >= rough * 0.999)
    first, last = math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9)
    return [step * number for number in range(first, last + 1)]


def _log_ticks(low: float, high: float) -> list[float]:
    decades = math.log10(high / low)
    leading = (1, 2, 5) if decades < 2.5 else (1,)
    every = max(1, round(decades / 6))
    first = math.floor(math.log10(low))
    powers = range(first, math.ceil(math.log10(high)) + 1, every)
    found = [many * 10.0**power for power in powers for many in leading]
    return [value for value in found if low * 0.999 <= value <= high * 1.001]


@dataclass(slots=True)
class Plot:
    """A drawing that is filled with curves and then written by `svg`.

    ``title`` and ``description`` are its text alternative: say in the description what a
    person would read off it.
    """

    title: str
    description: str
    x: Axis
    y: Axis
    _area: list[str] = field(default_factory=list)
    _marks: list[str] = field(default_factory=list)
    _legend: list[tuple[str, str]] = field(default_factory=list)

    def curve(self, points: Iterable[Point], label: str = "", style: str = "") -> None:
        """Draw a line through points; ``style`` is one of `STYLES`."""
        look = _line_look("plot-curve", _DASHES[style])
        self._area.append(f'<polyline {look} points="{self._path(points)}"/>')
        self._explain(look, label)

    def band(self, lower: Sequence[Point], upper: Sequence[Point], label: str = "") -> None:
        """Fill the space between two lines."""
        look = 'class="plot-band" fill="currentColor" fill-opacity="0.18" stroke="none"'
        points = self._path([*lower, *reversed(upper)])
        self._area.append(f'<polygon {look} points="{points}"/>')
        self._explain(look, label)

    def around(self, points: Sequence[Point], widths: Sequence[float], label: str) -> None:
        """Fill what lies around a line, as far from it as its widths say."""
        pairs = list(zip(points, widths, strict=True))
        lower = [(x, y - width) for (x, y), width in pairs]
        self.band(lower, [(x, y + width) for (x, y), width in pairs], label)

    def limit(
        self,
        *,
        x: float | None = None,
        y: float | None = None,
        points: Iterable[Point] = (),
        label: str = "",
    ) -> None:
        """Draw a limit: across the whole drawing at one x or one y, or through points.

        Parameters
        ----------
        x : float
            Place of an upright line, or ``None`` [unit of the x axis]
        y : float
            Place of a level line, or ``None`` [unit of the y axis]
        points : Iterable[Point]
            The line, where neither is given
        label : str
            What the legend says
        """
        look = _line_look("plot-limit", "10 4")
        path = self._path(points)
        if x is not None:
            across = _near(self.x.place(x) * self._area_width())
            path = f"{across:.1f},{_AREA_HEIGHT:.1f} {across:.1f},0.0"
        elif y is not None:
            down = _near((1 - self.y.place(y)) * _AREA_HEIGHT)
            path = f"0.0,{down:.1f} {self._area_width():.1f},{down:.1f}"
        self._area.append(f'<polyline {look} points="{path}"/>')
        self._explain(look, label)

    def mark(self, x: float, y: float, label: str = "") -> None:
        """Draw a point, with its label on the side that has more room.

        Parameters
        ----------
        x : float
            Place across [unit of the x axis]
        y : float
            Place upwards [unit of the y axis]
        label : str
            What stands beside it
        """
        across, down = self._place(x, y)
        across, down = across + _LEFT, down + _TOP
        self._marks.append(
            f'<circle class="plot-point" fill="currentColor" cx="{across:.1f}" cy="{down:.1f}" '
            'r="4"/>'
        )
        if label:
            left = across > _WIDTH / 2
            side = 'text-anchor="end"' if left else 'text-anchor="start"'
            beside = across + (-8 if left else 8)
            below = down < _TOP + _AREA_HEIGHT - 20
            height = down + (16 if below else -8)
            self._marks.append(_text(label, beside, height, side, "plot-label plot-beside"))

    def svg(self) -> str:
        """Write the drawing."""
        width, height = self._area_width(), _TOP + _AREA_HEIGHT + _BELOW + _ROW * len(self._legend)
        told = escape(f"{self.title}. {self.description}", quote=True)
        return "".join(
            [
                f'<svg xmlns="http://www.w3.org/2000/svg" class="plot" role="img" '
                f'viewBox="0 0 {_WIDTH} {height}" font-size="12" aria-label="{told}">',
                f"<title>{escape(self.title)}</title><desc>{escape(self.description)}</desc>",
                *self._horizontal(),
                *self._vertical(),
                f'<svg x="{_LEFT}" y="{_TOP}" width="{width}" height="{_AREA_HEIGHT}" '
                'overflow="hidden">',
                *self._area,
                "</svg>",
                *self._marks,
                *self._legend_rows(),
                "</svg>",
            ]
        )

    def _explain(self, look: str, label: str) -> None:
        if label:
            self._legend.append((look, label))

    def _area_width(self) -> int:
        return _WIDTH - _LEFT - (_RIGHT_WITH_SCALE if self.y.also else _RIGHT)

    def _place(self, x: float, y: float) -> Point:
        across = self.x.place(x) * self._area_width()
        down = (1 - self.y.place(y)) * _AREA_HEIGHT
        return _near(across), _near(down)

    def _path(self, points: Iterable[Point]) -> str:
        placed = (self._place(x, y) for x, y in points)
        return " ".join(f"{across:.1f},{down:.1f}" for across, down in placed)

    def _horizontal(self) -> list[str]:
        floor, width = _TOP + _AREA_HEIGHT, self._area_width()
        found = []
        for value in ticks(self.x):
            across = _LEFT + self.x.share(value) * width
            found.append(_grid(across, _TOP, across, floor))
            found.append(_text(_short(value), across, floor + 15, 'text-anchor="middle"'))
        found.append(_text(self.x.title(), _LEFT + width / 2, floor + 33, 'text-anchor="middle"'))
        return [*found, _axis_line(_LEFT, floor, _LEFT + width, floor)]

    def _vertical(self) -> list[str]:
        floor, right = _TOP + _AREA_HEIGHT, _LEFT + self._area_width()
        found = []
        for value in ticks(self.y):
            height = floor - self.y.share(value) * _AREA_HEIGHT
            found.append(_grid(_LEFT, height, right, height))
            found.append(_text(_short(value), _LEFT - 6, height + 4, 'text-anchor="end"'))
        found.append(_text(self.y.title(), 4, 13, 'text-anchor="start"'))
        if self.y.also:
            found += self._second_scale(self.y.also, right)
        return [*found, _axis_line(_LEFT, _TOP, _LEFT, floor)]

    def _second_scale(self, also: tuple[str, float], right: int) -> list[str]:
        unit, factor = also
        found = [_text(unit, _WIDTH - 4, 13, 'text-anchor="end"')]
        for value in ticks(self.y, factor):
            height = _TOP + (1 - self.y.share(value / factor)) * _AREA_HEIGHT
            found.append(_text(_short(value), right + 6, height + 4, 'text-anchor="start"'))
        return [*found, _axis_line(right, _TOP, right, _TOP + _AREA_HEIGHT)]

    def _legend_rows(self) -> list[str]:
        found = []
        for row, (look, label) in enumerate(self._legend):
            height = _TOP + _AREA_HEIGHT + _BELOW + _ROW * row + 8
            if "plot-band" in look:
                found.append(f'<rect {look} x="4" y="{height - 6}" width="30" height="11"/>')
            else:
                found.append(f'<line {look} x1="4" y1="{height}" x2="34" y2="{height}"/>')
            found.append(_text(label, 42, height + 4, 'text-anchor="start"'))
        return found


def _line_look(name: str, dashes: str) -> str:
    dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
    return f'class="{name}" fill="none" stroke="currentColor" stroke-width="2"{dashed}'


def _grid(x1: float, y1: float, x2: float, y2: float) -> str:
    return (
        f'<line class="plot-grid" stroke="currentColor" stroke-opacity="0.2" '
        f'x1="{x1:.1f}" y1="{y1:.1f}" x2="{x2:.1f}" y2="{y2:.1f}"/>'
    )


def _axis_line(x1: float, y1: float, x2: float, y2: float) -> str:
    return (
        f'<line class="plot-axis" stroke="currentColor" '
        f'x1="{x1:.1f}" y1="{y1:.1f}" x2="{x2:.1f}" y2="{y2:.1f}"/>'
    )


def _text(text: str, x: float, y: float, anchor: str, name: str = "plot-label") -> str:
    return (
        f'<text class="{name}" fill="currentColor" x="{x:.1f}" y="{y:.1f}" {anchor}>'
        f"{escape(text)}</text>"
    )


def _near(value: float) -> float:
    return min(max(value, -_FAR), _FAR)


def _short(value: float) -> str:
    text = significant(value, 3)
    return text.rstrip("0").rstrip(".") if "." in text and "×" not in text else text
