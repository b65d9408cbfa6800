"""The drawing of a system: all parts and paths of the car, nothing on top of anything."""

import itertools
import re
from xml.etree import ElementTree

import pytest

from baybook.book.car import CarProcedure
from baybook.pages.diagram import diagram_html

NUMBERS = re.compile(r"-?\d+\.?\d*")
TAGGED = ("control", "signal")
Element = ElementTree.Element
Joins = list[tuple[str, str, str]]


@pytest.fixture(scope="session")
def drawings(cars: list[CarProcedure]) -> dict[str, Element]:
    """The drawing of every page of the demo book, read as XML."""
    return {
        f"{car.source.id}/{car.vehicle.id}": ElementTree.fromstring(diagram_html(car))
        for car in cars
    }


def each_svg(drawing: Element) -> list[Element]:
    found = drawing.findall(".//svg[@class='system']")
    assert len(found) == 2  # to the right, and downwards
    return found


def joins_of(car: CarProcedure) -> Joins:
    return [
        (flow, name, target)
        for name, part in car.parts.items()
        for flow, targets in part.joins.items()
        for target in targets
        if target in car.parts
    ]


def lines_of(joins: Joins) -> Joins:
    """Return the joins that are lines: signals and commands are tags where others are there."""
    lines = [join for join in joins if join[0] not in TAGGED]
    return lines or joins


def points_of(path: Element) -> list[tuple[float, float]]:
    numbers = [float(each) for each in NUMBERS.findall(path.attrib["d"])]
    return list(zip(numbers[::2], numbers[1::2], strict=True))


def boxes(svg: Element) -> dict[str, tuple[float, ...]]:
    return {
        part.attrib["data-part"]: tuple(
            float(rect.attrib[side]) for side in ("x", "y", "width", "height")
        )
        for part in svg.iter()
        if "data-part" in part.attrib
        for rect in part.findall("rect")
    }


def test_every_join_is_said_and_drawn_as_a_line_or_a_tag(
    cars: list[CarProcedure], drawings: dict[str, Element]
) -> None:
    for car in cars:
        drawing = drawings[f"{car.source.id}/{car.vehicle.id}"]
        joins = joins_of(car)
        lines = lines_of(joins)
        assert [each.text for each in drawing.findall(".//details//li")] == [
            f"{flow.replace('-', ' ').capitalize()}: {car.parts[start].name} "
            f"to {car.parts[end].name}"
            for flow, start, end in joins
        ]
        for svg in each_svg(drawing):
            flows = [path.attrib["class"] for path in svg.findall("path") if "d" in path.attrib]
            drawn = [each.split("flow-")[1] for each in flows if each.startswith("flow ")]
            assert drawn == [flow for flow, _, _ in lines]
            tags = svg.findall(".//g[@class='part-tag']")
            tagged = {end for flow, _, end in joins if flow == "control"}
            tagged |= {start for flow, start, _ in joins if flow == "signal"}
            assert len(tags) == (len(tagged) if lines != joins else 0)
            assert {name for join in joins for name in join[1:]} == boxes(svg).keys()


def test_no_two_parts_overlap_and_none_leaves_the_drawing(drawings: dict[str, Element]) -> None:
    for drawing in drawings.values():
        for svg in each_svg(drawing):
            _, _, wide, high = map(float, svg.attrib["viewBox"].split())
            found = list(boxes(svg).values())
            for x, y, width, height in found:
                assert x >= 0
                assert y >= 0
                assert x + width <= wide
                assert y + height <= high
            for one, two in itertools.combinations(found, 2):
                assert abs(one[0] - two[0]) >= one[2] or abs(one[1] - two[1]) >= one[3]


def test_paths_have_right_angles_and_stay_inside(drawings: dict[str, Element]) -> None:
    for drawing in drawings.values():
        for svg in each_svg(drawing):
            _, _, wide, high = map(float, svg.attrib["viewBox"].split())
            for path in svg.findall("path"):
                if not path.attrib["class"].startswith("flow "):
                    continue
                points = points_of(path)
                assert all(0 <= x <= wide and 0 <= y <= high for x, y in points)
                for (x0, y0), (x1, y1) in itertools.pairwise(points):
                    assert min(abs(x0 - x1), abs(y0 - y1)) <= 1


@pytest.mark.parametrize("down", [False, True])
def test_the_main_flow_is_one_straight_line(cars: list[CarProcedure], *, down: bool) -> None:
    """The air path of the secondary air systems, from the screen to the exhaust."""
    checked = 0
    for car in cars:
        air = [join for join in joins_of(car) if join[0] == "air"]
        starts, ends = {join[1] for join in air}, [join[2] for join in air]
        single = len(starts) == len(air) == len(set(ends))
        if not car.source.id.startswith("secondary-air") or not single:
            continue
        svg = each_svg(ElementTree.fromstring(diagram_html(car)))[down]
        at = boxes(svg)
        assert len({at[name][0 if down else 1] for join in air for name in join[1:]}) == 1
        checked += 1
    assert checked > 0


def test_a_name_is_drawn_whole_or_cut_with_a_mark(
    cars: list[CarProcedure], drawings: dict[str, Element]
) -> None:
    for car in cars:
        for svg in each_svg(drawings[f"{car.source.id}/{car.vehicle.id}"]):
            for part in svg.iter():
                if "data-part" not in part.attrib:
                    continue
                text = part.find("text[@class='part-name']")
                assert text is not None
                drawn = "".join("".join(span.itertext()) for span in text).replace(" ", "")
                name = car.parts[part.attrib["data-part"]].name.replace(" ", "")
                assert drawn == name or name.startswith(drawn.removesuffix("…"))


def test_a_part_leads_to_the_first_test_that_looks_at_it(
    cars: list[CarProcedure], drawings: dict[str, Element]
) -> None:
    for car in cars:
        for link in drawings[f"{car.source.id}/{car.vehicle.id}"].iter("a"):
            test = car.tests[link.attrib["href"].removeprefix("#")]
            shown = {fault for seen in test.observations.values() for fault in seen.shows}
            parts = {car.faults[fault].part for fault in shown if fault in car.faults}
            assert link.attrib["data-part"] in parts


def test_the_small_book_has_one_path(car: CarProcedure) -> None:
    drawing = ElementTree.fromstring(diagram_html(car))
    assert [each.text for each in drawing.findall(".//details//li")] == ["Air: pump to valve"]
    right, down = each_svg(drawing)
    (left, top), *_, (end, bottom) = points_of(right.findall("path")[0])
    assert (left < end, top) == (True, bottom)
    (left, top), *_, (end, bottom) = points_of(down.findall("path")[0])
    assert (left, top < bottom) == (end, True)
