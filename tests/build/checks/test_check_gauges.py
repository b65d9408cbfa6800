"""Gauges that can not prove a limit are told, with what would do.

The figures follow from the grades of ASME B40.100 (A published; B, 1A from memory), the GUM
(a / sqrt 3, r / (2 sqrt 3)) and a guard band of U at k = 2 (ILAC-G8:09/2019).
"""

from pathlib import Path

import pytest

from baybook.book.bound import bind
from baybook.book.checks.check_book import check_book
from baybook.book.checks.check_gauges import check_gauges
from baybook.book.sources.load import load_book
from baybook.book.sources.problems import Problem

READING = """\
        kind: pressure
        reference: vacuum
        limit: {figure: valve-vacuum}
        gauge: pump
"""
VOLTS = "        kind: voltage\n        limit: {%s}\n        gauge: meter\n"
METER = "meter: {name: multimeter, gauges: {voltage: {resolution: 10 mV}}}"
DIAL = "{span: 30 inHg, grade: B, resolution: 0.5 inHg}"


@pytest.fixture
def folder(book_folder: Path) -> Path:
    return book_folder / "procedures"


def edit(path: Path, old: str, new: str) -> None:
    text = path.read_text("utf-8")
    assert text.count(old) == 1
    path.write_text(text.replace(old, new), "utf-8")


def told(folder: Path) -> list[Problem]:
    book = load_book(folder)
    assert check_book(book, {}) == []
    return check_gauges(bind(book), book.shared.tools)


def of_pressure(folder: Path, limit: str, reference: str = "vacuum", dial: str = DIAL) -> None:
    new = READING.replace("{figure: valve-vacuum}", f"{{{limit}}}")
    edit(folder / "air.md", READING, new.replace("vacuum\n", f"{reference}\n", 1))
    edit(folder / "shared.yml", DIAL, dial)


def test_a_gauge_that_does(folder: Path) -> None:
    assert told(folder) == []


def test_a_limit_without_a_gauge_is_no_matter_of_gauges(folder: Path) -> None:
    edit(folder / "air.md", READING, READING.replace("        gauge: pump\n", ""))
    book = load_book(folder)
    assert check_gauges(bind(book), book.shared.tools) == []


def test_the_whole_warning(folder: Path) -> None:
    """Middle half, grade B: 0.6 inHg; step 0.5: u = sqrt(0.6²/3 + 0.5²/12) = 0.375 inHg."""
    of_pressure(folder, "between: [18.5 inHg, 19.5 inHg]")
    assert [str(problem) for problem in told(folder)] == [
        "procedures/air.md:36: warning: tests.hold.observations.vacuum.gauge: expected a gauge "
        "that can prove a good reading, got pump: at 19.0 inHg (64.3 kPa) "
        "u is 0.38 inHg (1.3 kPa), the guard band 0.75 inHg (2.5 kPa), "
        "the limit 18.5 inHg to 19.5 inHg; on car\n"
        "    hint: give it a gauge with u of 0.25 inHg (0.85 kPa) or less, or a wider limit"
    ]


# Outer quarters, grade B: 0.9 inHg; u = sqrt(0.9²/3 + 0.5²/12) = 0.539, guard band 1.079 inHg.
@pytest.mark.parametrize(
    ("limit", "reference", "proved"),
    [
        ("between: [18.2 inHg, 19.8 inHg]", "vacuum", ""),
        ("at-most: 1.1 inHg", "vacuum", ""),
        ("at-most: 1.05 inHg", "vacuum", "good"),
        ("at-most: 1.05 inHg", "gauge", ""),
        ("at-least: 1.1 inHg", "vacuum", ""),
        ("at-least: 1.05 inHg", "vacuum", "bad"),
        ("at-least: 28 inHg", "vacuum", ""),
        ("at-least: 28.95 inHg", "gauge", "good"),
        ("at-most: 28.95 inHg", "gauge", "bad"),
        ("at-least: 0 inHg", "absolute", "bad"),
        ("at-most: 0 inHg", "absolute", "good"),
        ("between: [-4 inHg, -1 inHg]", "gauge", ""),
        ("between: [1.05 inHg, 20 inHg]", "vacuum", "bad"),
        ("between: [10 inHg, 28.95 inHg]", "gauge", "bad"),
    ],
)
def test_what_is_proved(folder: Path, limit: str, reference: str, proved: str) -> None:
    of_pressure(folder, limit, reference)
    assert [problem.text.split(" reading, ")[0] for problem in told(folder)] == [
        f"expected a gauge that can prove a {what}" for what in filter(None, [proved])
    ]


def test_no_vacuum_is_deeper_than_the_air(folder: Path) -> None:
    """At sea level 101.325 kPa = 29.92 inHg; a digital gauge of 0.1 inHg needs 0.06 inHg."""
    fine = "{resolution: 0.1 inHg}"
    of_pressure(folder, "at-least: 29.85 inHg", dial=fine)
    assert told(folder) == []
    edit(folder / "air.md", "29.85", "29.9")
    (problem,) = told(folder)
    assert problem.text.startswith(
        "expected a gauge that can prove a good reading, got pump: at 29.9 "
    )


@pytest.mark.parametrize(
    ("limit", "proved"),
    [
        ("at-most: 5 mV", "good"),
        ("at-least: 5 mV", "bad"),
        ("between: [-5 mV, 4 mV]", "good"),
        ("at-most: 0 V", ""),
        ("between: [-10 mV, 10 mV]", ""),
        ("between: [12.6 V, 14.8 V]", ""),
    ],
)
def test_a_voltage_is_below_zero_only_where_its_limit_is(
    folder: Path, limit: str, proved: str
) -> None:
    """Step 10 mV: u = 10 / sqrt 12 = 2.89 mV, guard band 5.77 mV."""
    edit(folder / "air.md", READING, VOLTS % limit)
    assert [problem.text.split(" reading, ")[0] for problem in told(folder)] == [
        f"expected a gauge that can prove a {what}" for what in filter(None, [proved])
    ]


def test_a_span_of_temperature_is_no_greatest_reading(folder: Path) -> None:
    edit(
        folder / "air.md",
        READING,
        VOLTS.replace("voltage", "temperature") % "between: [80 °C, 90 °C]",
    )
    edit(
        folder / "shared.yml",
        "voltage: {resolution: 10 mV}",
        "temperature: {span: 100 °C, grade: A}",
    )
    assert told(folder) == []
    edit(folder / "air.md", "[80 °C, 90 °C]", "[80 °C, 81 °C]")
    (problem,) = told(folder)
    assert (
        "at 177 °F (80.5 °C) u is 2.1 °F (1.2 °C), the guard band 4.2 °F (2.3 °C)" in problem.text
    )


FINE = "\n  fine: {name: fine gauge, gauges: {voltage: {resolution: 1 mV}}}"
SHORT = "meter: {name: multimeter, gauges: {voltage: {resolution: 10 mV, span: 2 V}}}"


@pytest.mark.parametrize(
    ("limit", "meter", "hint"),
    [
        ("at-most: 5 mV", METER + FINE, "fine can"),
        ("at-most: 5 mV", METER, "give it a gauge with u of 2.5 mV or less, or a wider limit"),
        ("at-most: 5 V", SHORT, "give it a gauge with a longer scale"),
        ("at-most: 5 V", SHORT + FINE, "fine can"),
    ],
)
def test_what_would_do(folder: Path, limit: str, meter: str, hint: str) -> None:
    edit(folder / "air.md", READING, VOLTS % limit)
    edit(folder / "shared.yml", METER, meter)
    assert [problem.hint for problem in told(folder)] == [hint]


def test_a_bound_that_nothing_lies_beyond(folder: Path) -> None:
    of_pressure(folder, "at-least: 0 inHg")
    assert [problem.hint for problem in told(folder)] == [
        "no reading can lie beyond this bound: give it another limit"
    ]


def test_cars_with_one_limit_are_told_together(folder: Path) -> None:
    car = (folder / "vehicles" / "car.yml").read_text("utf-8")
    (folder / "vehicles" / "one.yml").write_text(car, "utf-8")
    (folder / "vehicles" / "two.yml").write_text(car.replace("18 inHg", "1 inHg"), "utf-8")
    edit(folder / "vehicles" / "car.yml", "18 inHg", "1.0 inHg")
    edit(folder / "vehicles" / "one.yml", "18 inHg", "1.0 inHg")
    texts = [problem.text for problem in told(folder)]
    assert [text.split("the limit ")[1] for text in texts] == [
        "at least 1.0 inHg; on car, one",
        "at least 1 inHg; on two",
    ]
