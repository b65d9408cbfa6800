"""Whatever stands in the sources: a sentence for each mistake, never a fault of our own."""

import os
from collections.abc import Mapping
from pathlib import Path

import pytest

from baybook.book.bounds import LARGEST_SOURCE, LONGEST_TEXT
from baybook.book.checks.check_book import check_book
from baybook.book.sources.load import load_book
from baycalc.forms.declare import Calculator

AIR = "procedures/air.md"
CAR = "procedures/vehicles/car.yml"
BODY = "A pump blows air through a valve."
DEEP_LISTS = "".join(f"{'    ' * depth}- a\n" for depth in range(100))

CASES = {
    "template that empties the car": (AIR, BODY, "{{ vehicle.figures.clear() }}", "got a fault"),
    "template that changes the car": (
        AIR,
        BODY,
        '{% set x = vehicle.figures.update({"fuel-tank": 5}) %}',
        "got a fault",
    ),
    "text of 10 MB": (AIR, BODY, "{{ 'a ' * 5000000 }}", "got a fault"),
    "loops without an end": (
        AIR,
        BODY,
        "{% for a in t %}{% for b in t %}{% endfor %}{% endfor %}".replace(
            "t %", f"'{'x' * 2000}' %"
        ),
        "it takes more than 300,000 steps and letters",
    ),
    "brackets in a template": (AIR, BODY, "{{ " + "(" * 3000, "expected at most 60 brackets"),
    "halves of characters": (
        AIR,
        "title: Air pump",
        'title: "\\ud83d\\ude00"',
        "expected text, got the character U+D83D",
    ),
    "direction of writing": (AIR, "title: Air pump", 'title: "a\\u202Eb"', "character U+202E"),
    "nul": (AIR, "title: Air pump", 'title: "a\\0b"', "expected text, got the character U+0000"),
    "blank title": (AIR, "title: Air pump", 'title: "   "', "title: expected a text, got nothing"),
    "long title": (
        AIR,
        "title: Air pump",
        f"title: {'a' * (LONGEST_TEXT + 1)}",
        "expected a text of at most 5000 letters, got 5001",
    ),
    "huge weight": (AIR, "often: 2", "often: 1.0e+308", "expected a number of at most 100000"),
    "huge price": (
        AIR,
        "minutes: 20, section",
        "minutes: 20, price: 1.0e+308, section",
        "faults.pump-dead.repair.price: expected a number",
    ),
    "no number": (AIR, "often: 2", "often: .nan", "expected a finite number, got nan"),
    "brackets of links": (AIR, BODY, "[" * 20_000, "expected at most 500 of [ in a paragraph"),
    "brackets of elements": (AIR, BODY, "<a " * 20_000, "expected at most 500 of < in a paragraph"),
    "pictures without an end": (AIR, BODY, "![a](" * 20_000, "at most 500 of [ in a paragraph"),
    "quotes in quotes": (AIR, BODY, "> " * 3000, "expected at most 20 quotes"),
    "lists in lists": (AIR, BODY, DEEP_LISTS, "expected an indent of at most 200, got more"),
    "lists on one line": (AIR, BODY, "1. " * 1000, "expected at most 20 quotes or lists"),
    "large source": (CAR, "name: ", f"# {'x' * LARGEST_SOURCE}\nname: ", "at most 1,000,000 bytes"),
    "brackets of fields": (CAR, "figures:", f"more: {'[' * 20_000}\nfigures:", "a few levels"),
}


def problems_of(folder: Path, calculators: Mapping[str, Calculator]) -> str:
    return "\n".join(map(str, check_book(load_book(folder / "procedures"), calculators)))


@pytest.mark.parametrize("name", CASES)
def test_one_sentence(name: str, book_folder: Path, calculators: Mapping[str, Calculator]) -> None:
    file, old, new, said = CASES[name]
    text = (book_folder / file).read_text()
    assert text.count(old) == 1
    (book_folder / file).write_text(text.replace(old, new))
    assert said in problems_of(book_folder, calculators)


@pytest.mark.parametrize("name", ["pipe.md", "vehicles/pipe.yml", "shared/pipe.md", "shared.yml"])
def test_a_pipe_is_not_waited_for(
    name: str, book_folder: Path, calculators: Mapping[str, Calculator]
) -> None:
    pipe = book_folder / "procedures" / name
    pipe.parent.mkdir(exist_ok=True)
    pipe.unlink(missing_ok=True)
    os.mkfifo(pipe)
    said = problems_of(book_folder, calculators)
    assert f"procedures/{name}: expected a file that can be read, got a pipe or a device" in said


@pytest.mark.parametrize("name", ["index.md", "vehicles/index.yml"])
def test_the_name_of_a_front_page_is_taken(
    name: str, book_folder: Path, calculators: Mapping[str, Calculator]
) -> None:
    old = "air.md" if name == "index.md" else "vehicles/car.yml"
    (book_folder / "procedures" / old).rename(book_folder / "procedures" / name)
    said = problems_of(book_folder, calculators)
    assert f"procedures/{name}: expected a file name other than index, got " in said
