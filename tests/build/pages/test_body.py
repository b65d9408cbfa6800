"""The texts of a procedure, filled in for one car."""

import pytest
from jinja2 import UndefinedError

from baybook.book.car import CarProcedure
from baybook.book.source_model import Figure
from baybook.book.sources.load import Book
from baybook.pages.body import BodyWriter, figure_html


@pytest.fixture
def writer(car: CarProcedure, small: Book) -> BodyWriter:
    return BodyWriter(car, small)


def test_a_figure_stands_in_both_unit_systems(writer: BodyWriter) -> None:
    """18 inHg are 60.955 kPa by 3386.389 Pa to the inHg (NIST SP 811, B.8)."""
    assert writer.markdown('Hold {{ figure("valve-vacuum") }}.') == (
        'Hold at least <span class="quantity" data-us="18 inHg" data-metric="61 kPa">'
        "18 inHg (61 kPa)</span>."
    )


def test_a_figure_that_is_alike_everywhere_stands_once(writer: BodyWriter) -> None:
    assert writer.markdown('{{ figure("pump-fuse") }}') == '<span class="quantity">40 A</span>'


def test_places_quantities_and_equipment(writer: BodyWriter) -> None:
    text = '{{ where("pump-fuse") }}, {{ quantity("4 mm") }}'
    assert writer.markdown(text) == (
        'under the hood, <span class="quantity" data-us="0.16 in" data-metric="4 mm">'
        "0.16 in (4 mm)</span>"
    )
    text = '{% if has("air-pump") %}yes{% endif %}{% if has("egr") %}no{% endif %}'
    assert writer.markdown(text) == "yes"
    assert writer.markdown("{{ vehicle.name }}") == "Invented car"


def test_links_lead_to_tests_procedures_and_calculators(writer: BodyWriter) -> None:
    assert writer.markdown('{{ test("hold") }}') == '<a href="#hold">Hold</a>'
    assert writer.markdown('{{ procedure("air") }}') == '<a href="car.html">Air pump</a>'
    assert writer.markdown('{{ calculator("fuse") }}') == (
        '<a href="../../calculators/fuse.html">Fuse for a load</a>'
    )


def test_a_procedure_that_does_not_serve_the_car_is_reached_by_its_front_page(
    demo: Book, cars: list[CarProcedure]
) -> None:
    (car,) = (each for each in cars if each.source.id == "secondary-air-belt")
    writer = BodyWriter(car, demo)
    target = "secondary-air-vacuum-valve"
    assert car.vehicle not in demo.matches(demo.procedures[target])
    assert writer.link_to_procedure(target).startswith(f'<a href="../{target}/index.html">')
    assert not writer.serves(target)
    assert writer.serves("vacuum-supply")


def test_a_shared_text_is_filled_in_as_well(writer: BodyWriter, small: Book) -> None:
    small.shared_texts["two"] = 'Fuse: {{ where("pump-fuse") }}.'
    small.shared_texts["one"] = 'First. {{ shared("two") }}'
    assert writer.markdown('{{ shared("one") }}') == "First. Fuse: under the hood."


def test_a_safety_message_begins_with_its_signal_word_once(writer: BodyWriter, small: Book) -> None:
    """Signal words of ANSI Z535.6."""
    small.shared_texts["gas"] = '!!! danger "Gas"\n    It kills.'
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
