"""The data of the cars: every figure of every page of the demo book is the car's own text."""

import json
from typing import Any

import pytest

from baybook.book.car import CarProcedure
from baybook.book.compiled import CompiledBook
from baybook.pages.body import between_html, figure_html
from baybook.pages.cars import car_files
from baybook.pages.page_places import Places
from baybook.pages.site import Page, procedure_uri


def data_of(text: str) -> Any:
    return json.loads(text.partition("(")[2].removesuffix(");\n"))


def texts_of(place: dict[str, Any]) -> str:
    """Return the words of a place; what separates them is of no matter."""
    words = "".join(text if isinstance(text, str) else text[2] for text in place["texts"])
    return " ".join(words.split())


@pytest.fixture(scope="module")
def asked(demo_book: CompiledBook) -> list[Page]:
    """Pages that ask for every figure, place and limit of every procedure."""
    pages = []
    for variant in demo_book.variants:
        places = Places(variant.car, demo_book.sources.vehicles.values())
        for name, figure in variant.cars[0].data.figures.items():
            if not figure_html(figure):
                places.where(name)
                continue
            places.figure(name)
        for test in variant.car.tests.values():
            for seen in test.observations.values():
                if seen.reading:
                    places.limit(seen)
        uri = procedure_uri(variant.source.id, variant.name)
        pages.append(Page(uri, "", "", asks=places.asks))
    return pages


@pytest.fixture(scope="module")
def cars(demo_book: CompiledBook, asked: list[Page]) -> dict[str, Any]:
    files = car_files(demo_book, asked)
    return {name: data_of(files[f"cars/{name}.js"]) for name in demo_book.sources.vehicles}


def test_every_figure_is_the_text_that_is_written_for_the_car_alone(
    demo_book: CompiledBook, asked: list[Page], cars: dict[str, Any]
) -> None:
    keys = {key: ask for page in asked for key, ask in page.asks.items()}
    compared = 0
    for name, vehicle in demo_book.sources.vehicles.items():
        for key, ask in keys.items():
            figure = vehicle.data.figures.get(ask["figure"])
            if ask["form"] == "limit" or figure is None:
                continue
            wanted = (
                " ".join(figure.where.split())
                if ask["form"] == "where"
                else figure_html(figure).striptags()
            )
            found = cars[name]["places"].get(key)
            assert (texts_of(found) if found else "") == wanted, (name, key)
            compared += 1
    assert compared > 300


def test_every_limit_is_that_of_the_car_alone(
    demo_book: CompiledBook, cars: dict[str, Any]
) -> None:
    compared = 0
    for variant in demo_book.variants:
        for vehicle in variant.cars:
            car = CarProcedure(variant.source, vehicle)
            for test in car.tests.values():
                for seen in test.observations.values():
                    if not seen.reading or not (key := Places(car, ()).limit(seen)[0]):
                        continue
                    place, limit = cars[vehicle.id]["places"][key], car.bounds(seen)
                    assert (place["low"], place["high"]) == (limit.low, limit.high)
                    assert tuple(place["units"]) == car.units(seen)
                    pairs = limit.pairs(car.units(seen))
                    assert texts_of(place) == between_html(*pairs).striptags()
                    compared += 1
    assert compared > 100


def test_a_car_says_which_page_serves_it(demo_book: CompiledBook, cars: dict[str, Any]) -> None:
    names = demo_book.page_names()
    for name, car in cars.items():
        assert car["pages"] == {proc: page for (proc, of), page in names.items() if of == name}


def test_old_addresses_lead_on(small_book: CompiledBook) -> None:
    text = car_files(small_book, [])["procedures/air/car.html"]
    assert 'data-page="work.html" data-car="car"' in text
    assert '<a href="work.html?car=car">' in text
