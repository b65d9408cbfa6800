"""The texts of a procedure, filled in for one car."""

from dataclasses import replace

import pytest
from jinja2 import UndefinedError

from baybook.book.car import CarProcedure
from baybook.book.equipment import Variant, variants_of
from baybook.book.source_model import Figure
from baybook.book.sources.load import Book
from baybook.pages.body import BodyWriter, figure_html


@pytest.fixture
def writer(variant: Variant, car: CarProcedure, small: Book) -> BodyWriter:
    return BodyWriter(variant, car, small)


def test_a_figure_is_a_place_with_neutral_words(writer: BodyWriter) -> None:
    assert writer.markdown('Hold {{ figure("valve-vacuum") }}.') == (
        'Hold <span class="figure" data-figure="figure:valve-vacuum:pressure">'
        "[vacuum of the valve]</span>."
    )
    assert writer.places.asks["figure:valve-vacuum:pressure"] == {
        "form": "figure",
        "figure": "valve-vacuum",
        "kind": "pressure",
    }


def test_places_quantities_and_equipment(writer: BodyWriter) -> None:
    text = '{{ where("pump-fuse") }}, {{ quantity("4 mm") }}'
    assert writer.markdown(text) == (
        '<span class="figure" data-figure="where:pump-fuse">[place of: fuse of the pump]</span>, '
        '<span class="quantity" data-us="0.16 in" data-metric="4 mm">0.16 in (4 mm)</span>'
    )
    text = '{% if has("air-pump") %}yes{% endif %}{% if has("egr") %}no{% endif %}'
    assert writer.markdown(text) == "yes"
    assert "your car" in writer.markdown("{{ vehicle.name }}")


def test_a_text_bound_to_one_car_names_it(small: Book, car: CarProcedure) -> None:
    source = small.procedures["air"]
    hold = source.section("hold")
    assert hold
    bound = replace(hold, text="{{ vehicle.name | upper }}")
    sections = tuple(bound if each is hold else each for each in source.sections)
    source = replace(source, sections=sections)
    small.procedures["air"] = source
    (variant,) = variants_of(source, small)
    assert variant.name == "for-car"
    writer = BodyWriter(variant, CarProcedure(source, car.vehicle), small)
    assert writer.markdown(bound.text) == "INVENTED CAR"


def test_links_lead_to_tests_procedures_and_calculators(writer: BodyWriter) -> None:
    assert writer.markdown('{{ test("hold") }}') == '<a href="#hold">Hold</a>'
    assert writer.markdown('{{ procedure("air") }}') == (
        '<a href="index.html" data-procedure="air">Air pump</a>'
    )
    assert writer.markdown('{{ calculator("fuse") }}') == (
        '<a href="../../calculators/fuse.html">Fuse for a load</a>'
    )


def test_a_page_knows_which_procedures_serve_its_cars(demo: Book) -> None:
    (variant,) = variants_of(demo.procedures["secondary-air-belt"], demo)
    writer = BodyWriter(variant, variant.car, demo)
    assert not writer.serves("secondary-air-vacuum-valve")
    assert writer.serves("vacuum-supply")


def test_a_shared_text_is_filled_in_as_well(writer: BodyWriter, small: Book) -> None:
    small.shared_texts["two"] = 'Fuse: {{ quantity("40 A") }}.'
    small.shared_text_files["two"] = "shared/two.md"
    small.shared_texts["one"] = 'First. {{ shared("two") }}'
    small.shared_text_files["one"] = "shared/one.md"
    assert writer.markdown('{{ shared("one") }}') == (
        'First. Fuse: <span class="quantity">40 A</span>.'
    )


def test_a_safety_message_begins_with_its_signal_word_once(writer: BodyWriter, small: Book) -> None:
    """Signal words of ANSI Z535.6."""
    small.shared_texts["gas"] = '!!! danger "Gas"\n    It kills.'
    small.shared_text_files["gas"] = "shared/gas.md"
    text = '{{ shared("gas") }}\n\n!!! notice "Law"\n    Ask.\n\n!!! tip "Rest"\n    Sit.'
    assert writer.markdown(text) == (
        '!!! danger "DANGER: Gas"\n    It kills.\n\n'
        '!!! notice "NOTICE: Law"\n    Ask.\n\n!!! tip "Rest"\n    Sit.'
    )


def test_a_word_that_is_not_known_does_not_vanish(writer: BodyWriter) -> None:
    with pytest.raises(UndefinedError):
        writer.markdown("{{ nonsense }}")


@pytest.mark.parametrize(
    ("figure", "text"),
    [
        (Figure(says="f", between=("18 A", "28 A")), "18 A to 28 A"),
        (Figure(says="f", at_most="2 ohm"), "at most 2 Ω"),
        (Figure(says="f", at_least="5 V"), "at least 5 V"),
        (Figure(says="f", where="left"), ""),
    ],
)
def test_bounds_are_written_in_words(figure: Figure, text: str) -> None:
    bare = str(figure_html(figure)).replace('<span class="quantity">', "")
    assert bare.replace("</span>", "") == text
