"""The drawing of a system: all parts and paths of the car, nothing on top of anything."""

import re
from xml.etree import ElementTree

import pytest

from baybook.book.car import CarProcedure
from baybook.pages.diagram import diagram_html

LETTERS = "g[@class='diagram-letter']"
NUMBERS = re.compile(r"-?\d+\.?\d*")


@pytest.fixture(scope="session")
def drawings(cars: list[CarProcedure]) -> dict[str, ElementTree.Element]:
    """The drawing of every page of the demo book, read as XML."""
    return {
        f"{car.source.id}/{car.vehicle.id}": ElementTree.fromstring(diagram_html(car))
        for car in cars
    }


def svg_of(drawing: ElementTree.Element) -> ElementTree.Element:
    found = drawing.find(".//svg[@role='img']")
    assert found is not None
    return found


def boxes(drawing: ElementTree.Element) -> list[list[float]]:
    return [
        [float(each.attrib[side]) for side in ("x", "y", "width", "height")]
        for each in drawing.iter("rect")
    ]


def test_every_join_of_the_car_is_drawn_and_said(
    cars: list[CarProcedure], drawings: dict[str, ElementTree.Element]
) -> None:
    for car in cars:
        drawing = drawings[f"{car.source.id}/{car.vehicle.id}"]
        joins = [
            f"{flow.replace('-', ' ').capitalize()}: {part.name} to {car.parts[target].name}"
            for part in car.parts.values()
            for flow, targets in part.joins.items()
            for target in targets
            if target in car.parts
        ]
        said = [each.text for each in drawing.findall(".//details//li")]
        assert said == joins
        assert len(svg_of(drawing).findall("path[@marker-end]")) == len(joins)
        assert f"{len(joins)} joins" in svg_of(drawing).attrib["aria-label"]


def test_no_two_parts_overlap_and_none_leaves_the_drawing(
    drawings: dict[str, ElementTree.Element],
) -> None:
    for drawing in drawings.values():
        _, _, wide, high = map(float, svg_of(drawing).attrib["viewBox"].split())
        found = boxes(drawing)
        for place, (x, y, width, height) in enumerate(found):
            assert x >= 0
            assert y >= 0
            assert x + width <= wide
            assert y + height <= high
            for other_x, other_y, *_ in found[place + 1 :]:
                assert abs(x - other_x) >= width or abs(y - other_y) >= height


def test_every_path_has_the_letter_of_its_kind(drawings: dict[str, ElementTree.Element]) -> None:
    for drawing in drawings.values():
        legend = {
            each.findtext("b") or "": (each[-1].tail or "").strip()
            for each in drawing.findall(".//ul[@class='diagram-legend']/li")
        }
        svg = svg_of(drawing)
        letters = [
            each.findtext("text") or "" for each in svg.findall("g[@class='diagram-letter']")
        ]
        flows = [
            path.attrib["class"].removeprefix("flow flow-").replace("-", " ")
            for path in svg.findall("path[@marker-end]")
        ]
        assert [legend[letter] for letter in letters] == flows
        assert set(legend.values()) == set(flows)


def test_letters_stand_inside_the_drawing(drawings: dict[str, ElementTree.Element]) -> None:
    for drawing in drawings.values():
        _, _, wide, high = map(float, svg_of(drawing).attrib["viewBox"].split())
        for circle in drawing.iter("circle"):
            assert 0 < float(circle.attrib["cx"]) < wide
            assert 0 < float(circle.attrib["cy"]) < high


def test_a_name_is_drawn_whole(
    cars: list[CarProcedure], drawings: dict[str, ElementTree.Element]
) -> None:
    for car in cars:
        drawing = drawings[f"{car.source.id}/{car.vehicle.id}"]
        drawn = {
            "".join(line.text or "" for line in part.findall("text")).replace(" ", "")
            for part in drawing.findall(".//g[@class='diagram-part']")
        }
        assert drawn <= {part.name.replace(" ", "") for part in car.parts.values()}


def test_the_letters_of_a_drawing_are_of_the_size_of_the_text(
    drawings: dict[str, ElementTree.Element],
) -> None:
    """Letters of 13.5 units come out at 16 px; the theme's rem has 20 px, from memory."""
    for drawing in drawings.values():
        svg = svg_of(drawing)
        natural = float(svg.attrib["style"].removeprefix("--natural: ").removesuffix("rem"))
        wide = float(svg.attrib["viewBox"].split()[2])
        assert natural * 20 / wide * 13.5 == pytest.approx(16, abs=0.1)


def test_the_small_book_has_one_path(car: CarProcedure) -> None:
    drawing = ElementTree.fromstring(diagram_html(car))
    assert [each.text for each in drawing.findall(".//details//li")] == ["Air: pump to valve"]
    (path,) = svg_of(drawing).findall("path[@marker-end]")
    _, top, *_, bottom = map(float, NUMBERS.findall(path.attrib["d"]))
    assert top < bottom
