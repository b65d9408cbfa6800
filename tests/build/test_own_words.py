"""What a book adds of its own: systems, hazards, flows, titles of codes, conditions, texts."""

from pathlib import Path

import pytest

from baybook.book.bound import bind
from baybook.book.checks.check_book import check_book
from baybook.book.compiled import compile_book
from baybook.book.sources.load import Book, load_book
from baybook.pages.body import figure_html
from baycalc.forms.declare import Calculator


@pytest.fixture
def folder(book_folder: Path, calculators: dict[str, Calculator]) -> Path:
    assert calculators
    return book_folder / "procedures"


def edit(path: Path, changes: dict[str, str]) -> None:
    text = path.read_text("utf-8")
    for old, new in changes.items():
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    path.write_text(text, "utf-8")


def clean(folder: Path) -> Book:
    book = load_book(folder)
    assert check_book(book, {}) == []
    return book


def test_systems_flows_and_hazards_of_ones_own(folder: Path) -> None:
    edit(
        folder / "shared.yml",
        {
            "codes-need:": "systems: {grille: Grille shutter}\nflows: {linkage: linkage}\n"
            "hazards: {tipping: the car can tip}\ncodes-need:",
            "hazards: [exhaust-gas]": "hazards: [exhaust-gas, tipping]",
            "covers: [exhaust-gas]": "covers: [exhaust-gas, tipping]",
        },
    )
    edit(
        folder / "air.md",
        {"system: secondary-air": "system: grille", "joins: {air:": "joins: {linkage:"},
    )
    assert clean(folder).procedures["air"].system == "Grille shutter"


def test_titles_of_codes_by_book_procedure_and_maker(folder: Path) -> None:
    edit(
        folder / "shared.yml", {"codes-need:": "codes: {P0410: {title: Of the book}}\ncodes-need:"}
    )
    assert clean(folder).procedures["air"].code_title("P0410") == "Of the book"
    edit(folder / "air.md", {"parts:\n": "code-titles: {P0410: Of the procedure}\nparts:\n"})
    book = clean(folder)
    assert (
        book.procedures["air"].code_title("P0410") == book.code_title("P0410") == "Of the procedure"
    )
    edit(
        folder / "vehicles" / "car.yml",
        {"figures:": "code-titles: {P0410: Of the maker}\nfigures:"},
    )
    assert bind(clean(folder))[0].code_title("P0410") == "Of the maker"


def test_a_code_of_the_maker_needs_no_other_title(folder: Path) -> None:
    text = (folder / "air.md").read_text("utf-8").replace("P0410", "P1490")
    (folder / "air.md").write_text(text, "utf-8")
    assert "P1490" in str(check_book(load_book(folder), {})[0])
    edit(folder / "vehicles" / "car.yml", {"figures:": "code-titles: {P1490: Ours}\nfigures:"})
    clean(folder)


@pytest.mark.parametrize(
    ("when", "there"),
    [
        ("[air-pump]", True),
        ("{needs: [air-pump]}", True),
        ("{without: [air-pump]}", False),
        ("{without: [clutch]}", True),
        ("{any: [air-pump, clutch]}", True),
        ("{any: [clutch, hoist]}", False),
        ("{needs: [air-pump], without: [clutch], any: [air-pump]}", True),
    ],
)
def test_conditions_on_a_car(when: str, there: bool, folder: Path) -> None:
    edit(folder / "air.md", {"    title: Runs": f"    title: Runs\n    when: {when}"})
    book = load_book(folder)
    assert [each for each in check_book(book, {}) if each.severity == "error"] == []
    (car,) = bind(book)
    assert ("runs" in car.tests) == there


def test_a_fault_needs_its_part_whatever_the_condition(folder: Path) -> None:
    edit(
        folder / "air.md",
        {"  valve: {name: valve}": "  valve: {name: valve, when: {without: [air-pump]}}"},
    )
    texts = [str(each) for each in check_book(load_book(folder), {}) if each.severity == "error"]
    assert texts == [
        "procedures/air.md:19: faults.valve-leaks.part: expected a part of every vehicle that has "
        "this fault, got one that procedures/vehicles/car.yml lacks\n"
        "    hint: compare `when` of the part and of the fault"
    ]


def test_a_figure_of_the_car_stands_for_minutes_price_and_weight(folder: Path) -> None:
    edit(
        folder / "vehicles" / "car.yml",
        {
            "figures:\n": "figures:\n  pump-time: {says: Time for the pump, value: 1.5 h}\n"
            '  pump-price: {says: Price of the pump, value: "240"}\n'
        },
    )
    edit(
        folder / "air.md",
        {"{minutes: 20, section": "{minutes: pump-time, price: pump-price, section"},
    )
    (car,) = compile_book(folder).bound
    repair = car.faults["pump-dead"].repair
    assert (repair.minutes, repair.price) == (90.0, 240.0)
    assert car.network["faults"][0]["repair"]["minutes"] == 90.0


def test_a_figure_that_is_a_text(folder: Path) -> None:
    edit(
        folder / "vehicles" / "car.yml",
        {"figures:\n": "figures:\n  pump-wire: {says: Wire of the pump, text: brown <white>}\n"},
    )
    edit(folder / "air.md", {"A pump blows": 'The wire is {{ figure("pump-wire") }}. A pump blows'})
    figure = clean(folder).vehicles["car"].data.figures["pump-wire"]
    assert figure_html(figure) == "brown &lt;white&gt;"


def test_yes_and_no_may_stand_in_quotes(folder: Path) -> None:
    edit(folder / "air.md", {"good: yes": 'good: "yes"'})
    assert clean(folder).procedures["air"].data.tests["runs"].observations["heard"].good is True
