"""Drawings: round ticks, points in the right place, a text alternative, no colors."""

import re
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baycalc.plot import STYLES, Axis, Plot, ticks

SVG = "{http://www.w3.org/2000/svg}"


def plot(x: Axis | None = None, y: Axis | None = None) -> Plot:
    return Plot(
        "Decay",
        "It falls from 20 to 10 & <stays>.",
        x or Axis("Time", 0, 60, unit="s"),
        y or Axis("Vacuum", 0, 20, unit="inHg", also=("kPa", 3.386)),
    )


def parsed(drawing: Plot) -> ElementTree.Element:
    return ElementTree.fromstring(drawing.svg())


def labels(root: ElementTree.Element) -> list[str]:
    return [text.text or "" for text in root.iter(f"{SVG}text")]


def points(element: ElementTree.Element) -> list[tuple[float, ...]]:
    pairs = element.get("points", "").split()
    return [tuple(float(each) for each in pair.split(",")) for pair in pairs]


def test_text_alternative() -> None:
    root = parsed(plot())
    assert root.get("role") == "img"
    assert root.get("aria-label") == "Decay. It falls from 20 to 10 & <stays>."
    assert root.findtext(f"{SVG}title") == "Decay"
    assert root.findtext(f"{SVG}desc") == "It falls from 20 to 10 & <stays>."


def test_readable_on_a_narrow_screen() -> None:
    root = parsed(plot())
    width = float((root.get("viewBox") or "").split()[2])
    assert width <= 360
    assert root.get("font-size") == "12"


def test_classes_instead_of_colours_and_no_ids() -> None:
    drawing = plot()
    drawing.curve([(0, 20), (60, 10)], "expected")
    drawing.band([(0, 19), (60, 9)], [(0, 21), (60, 11)], "band")
    drawing.limit(y=15, label="limit")
    drawing.mark(60, 10, "end")
    text = drawing.svg()
    for name in ("axis", "grid", "curve", "band", "limit", "point", "label"):
        assert f'class="plot-{name}' in text
    assert set(re.findall(r'(?:fill|stroke)="([^"]*)"', text)) == {"none", "currentColor"}
    assert "id=" not in text


def test_a_curve_runs_from_corner_to_corner() -> None:
    drawing = plot(y=Axis("Vacuum", 0, 20))
    drawing.curve([(0, 20), (60, 0)])
    line = next(parsed(drawing).iter(f"{SVG}polyline"))
    (left, top), (right, bottom) = points(line)
    assert (left, top) == (0, 0)
    assert right == 360 - 50 - 14
    assert bottom == 190


def test_a_log_axis_spaces_decades_evenly() -> None:
    axis = Axis("Current", 1, 1000, log=True)
    assert [axis.share(value) for value in (1, 10, 100, 1000)] == pytest.approx(
        [0, 1 / 3, 2 / 3, 1]
    )
    assert axis.share(0) < -1000


def test_what_lies_beyond_stays_near() -> None:
    drawing = plot()
    drawing.curve([(-1e300, 1e300), (1e300, -1e300)])
    for pair in points(next(parsed(drawing).iter(f"{SVG}polyline"))):
        assert all(abs(each) <= 4000 for each in pair)


def test_limits_across_and_through_points() -> None:
    drawing = plot(y=Axis("Vacuum", 0, 20))
    drawing.limit(x=30)
    drawing.limit(y=10)
    drawing.limit(points=[(0, 20), (60, 0)])
    across = [points(line) for line in parsed(drawing).iter(f"{SVG}polyline")]
    assert across == [
        [(148, 190), (148, 0)],
        [(0, 95), (296, 95)],
        [(0, 0), (296, 190)],
    ]


def test_marks_and_their_labels() -> None:
    drawing = plot()
    drawing.mark(10, 10, "left")
    drawing.mark(55, 10, "right")
    drawing.mark(30, 0)
    texts = {text.text: text for text in parsed(drawing).iter(f"{SVG}text")}
    assert texts["left"].get("text-anchor") == "start"
    assert texts["right"].get("text-anchor") == "end"
    assert len(list(parsed(drawing).iter(f"{SVG}circle"))) == 3


def test_a_legend_row_for_each_label() -> None:
    bare, told = plot(), plot()
    for style in STYLES:
        bare.curve([(0, 1), (1, 2)], style=style)
        told.curve([(0, 1), (1, 2)], f"curve {style}", style)
    heights = [float((parsed(each).get("viewBox") or "").split()[3]) for each in (bare, told)]
    assert heights[1] == heights[0] + 18 * len(STYLES)
    assert {f"curve {style}" for style in STYLES} <= set(labels(parsed(told)))


def test_styles_differ_without_colour() -> None:
    drawing = plot()
    for style in STYLES:
        drawing.curve([(0, 1), (1, 2)], style=style)
    dashes = [line.get("stroke-dasharray") for line in parsed(drawing).iter(f"{SVG}polyline")]
    assert len(set(dashes)) == len(STYLES)


def test_both_units_of_an_axis() -> None:
    found = labels(parsed(plot()))
    assert "Vacuum, inHg" in found
    assert "kPa" in found
    assert {"0", "5", "10", "15", "20", "40", "60"} <= set(found)


@pytest.mark.parametrize(
    ("axis", "expected"),
    [
        (Axis("A", 0, 60), [0, 20, 40, 60]),
        (Axis("A", 19, 20.4), [19, 19.5, 20]),
        (Axis("A", -5, 5), [-4, -2, 0, 2, 4]),
        (Axis("A", 0.01, 1000, log=True), [0.01, 0.1, 1, 10, 100, 1000]),
        (Axis("A", 5, 100, log=True), [5, 10, 20, 50, 100]),
    ],
)
def test_round_ticks(axis: Axis, expected: list[float]) -> None:
    assert ticks(axis) == pytest.approx(expected)


@given(st.floats(-1e6, 1e6), st.floats(1e-3, 1e6))
def test_ticks_are_few_and_inside(low: float, length: float) -> None:
    axis = Axis("A", low, low + length)
    found = ticks(axis)
    assert 2 <= len(found) <= 12
    assert all(-1e-6 <= axis.share(value) <= 1 + 1e-6 for value in found)


@given(st.floats(1e-6, 1e3), st.floats(1.5, 1e9))
def test_log_ticks_are_few_and_inside(low: float, ratio: float) -> None:
    axis = Axis("A", low, low * ratio, log=True)
    found = ticks(axis)
    assert len(found) <= 12
    assert all(-0.01 <= axis.share(value) <= 1.01 for value in found)


@pytest.mark.parametrize("axis", [(5, 5, False), (6, 5, False), (0, 5, True), (-1, 5, True)])
def test_an_axis_needs_a_scale(axis: tuple[float, float, bool]) -> None:
    low, high, log = axis
    with pytest.raises(ValueError, match=f"axis A: no scale from {low} to {high}"):
        Axis("A", low, high, log)


def test_the_figures_of_an_axis_stand_outside_the_drawing() -> None:
    root = parsed(Plot("Decay", "It falls.", Axis("Time", 0, 60), Axis("Vacuum", 0, 20)))
    figures = [text for text in root.iter(f"{SVG}text") if text.get("text-anchor") == "end"]
    assert [text.text for text in figures] == ["0", "5", "10", "15", "20"]
    axes = [line for line in root.iter(f"{SVG}line") if "plot-axis" in (line.get("class") or "")]
    left = min(float(line.get("x1") or 0) for line in axes)
    assert all(float(text.get("x") or 0) < left for text in figures)
