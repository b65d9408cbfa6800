"""Faults that tests do not see, or do not separate, are told with the cars on which they do not."""

from pathlib import Path

import pytest

from baybook.book.bound import bind
from baybook.book.checks.check_book import check_book
from baybook.book.checks.check_isolation import check_isolation
from baybook.book.sources.load import load_book

LEAK = "shows: {valve-leaks: 0.9}"
DEAD = "shows: {pump-dead: 0.9}"


@pytest.fixture
def folder(book_folder: Path) -> Path:
    return book_folder / "procedures"


def change(folder: Path, changes: dict[str, str]) -> None:
    path = folder / "air.md"
    text = path.read_text("utf-8")
    for old, new in changes.items():
        assert text.count(old) == 1
        text = text.replace(old, new)
    path.write_text(text, "utf-8")


def second_car(folder: Path, has: str) -> None:
    text = (folder / "vehicles" / "car.yml").read_text("utf-8")
    text = text.replace("has: [air-pump]", f"has: [air-pump{has}]")
    (folder / "vehicles" / "second.yml").write_text(text, "utf-8")


def state(folder: Path, groups: str) -> None:
    change(folder, {"tests:\n  hold:": f"ambiguity-groups: {groups}\ntests:\n  hold:"})


def told(folder: Path) -> list[str]:
    """Return field and text of each warning of a book without errors."""
    book = load_book(folder)
    assert [each for each in check_book(book, {}) if each.severity == "error"] == []
    found = check_isolation(bind(book))
    assert all(each.severity == "warning" and each.hint and each.line > 1 for each in found)
    return [f"{each.field}: {each.text}" for each in found]


def separate(names: str, cars: str = "car") -> str:
    return (
        f"faults.{names.split(' ')[0]}: expected tests that separate {names} on {cars}, "
        "got much the same results with each"
    )


def not_mixed(names: str, place: int = 0) -> str:
    return (
        f"ambiguity-groups[{place}]: expected faults that no test separates on some car, got "
        f"{names}, which tests tell from the others on every car"
    )


def test_a_procedure_that_finds_every_fault(folder: Path) -> None:
    assert told(folder) == []


def test_a_fault_that_is_not_shown_on_one_of_the_cars(folder: Path) -> None:
    second_car(folder, ", tell-tale")
    change(folder, {"setup: idle": "setup: idle\n    when: [tell-tale]"})
    assert told(folder) == [
        "faults.pump-dead: expected a test that shows this fault on car, got none"
    ]


def test_a_fault_that_no_test_names_is_told_once(folder: Path) -> None:
    change(folder, {LEAK: DEAD})
    assert told(folder) == []
    (problem,) = check_book(load_book(folder), {})
    assert problem.text == "expected a test that shows this fault, got none"


# A fault counts as detected from one half on; 1 - 0.7 x 0.7 = 0.51.
@pytest.mark.parametrize(
    ("shows", "got"),
    [("0.5", ""), ("0.49", "0.49 on car, second"), ("0.001", "0.001 on car, second")],
)
def test_a_fault_that_is_hardly_shown(folder: Path, shows: str, got: str) -> None:
    second_car(folder, "")
    change(folder, {LEAK: f"shows: {{valve-leaks: {shows}}}"})
    text = "expected a chance of 0.5 or more that some test shows this fault"
    assert told(folder) == [f"faults.valve-leaks: {text}, got {got}"] * bool(got)


def test_two_weak_tests_show_a_fault(folder: Path) -> None:
    change(
        folder,
        {
            LEAK: "shows: {valve-leaks: 0.3}",
            DEAD: "shows: {pump-dead: 0.9, valve-leaks: 0.3}",
        },
    )
    assert not [each for each in told(folder) if "chance" in each]


def test_faults_that_look_alike_on_some_cars(folder: Path) -> None:
    second_car(folder, ", tell-tale")
    change(
        folder,
        {
            "minutes: 5": "minutes: 5\n    when: [tell-tale]",
            "after: [hold]": "after: []",
            DEAD: "shows: {pump-dead: 0.9, valve-leaks: 0.9}",
        },
    )
    assert told(folder) == [separate("pump-dead and valve-leaks")]


ALIKE = {
    LEAK: "shows: {valve-leaks: 0.9, pump-dead: 0.9}",
    DEAD: "shows: {pump-dead: 0.8, valve-leaks: 0.8}",
}
THIRD = """\
  pump-slow:
    part: pump
    says: slow
    often: 1
    repair: {minutes: 20, section: fit-pump}
ambiguity-groups: []
tests:
  hold:"""


def test_a_stated_group_is_no_mistake(folder: Path) -> None:
    change(folder, ALIKE)
    assert told(folder) == [separate("pump-dead and valve-leaks")]
    state(folder, "[[valve-leaks, pump-dead]]")
    assert told(folder) == []


def test_cars_with_one_network_are_told_together(folder: Path) -> None:
    change(folder, ALIKE)
    second_car(folder, "")
    assert told(folder) == [separate("pump-dead and valve-leaks", "car, second")]


def test_a_group_that_tests_separate_is_stale(folder: Path) -> None:
    state(folder, "[[pump-dead, valve-leaks]]")
    assert told(folder) == [not_mixed("pump-dead and valve-leaks")]


@pytest.mark.parametrize(
    ("groups", "warnings"),
    [
        ("[[pump-dead, valve-leaks, pump-slow]]", [not_mixed("pump-slow")]),
        ("[[pump-dead, valve-leaks]]", []),
        (
            "[[pump-dead, pump-slow]]",
            [separate("pump-dead and valve-leaks"), not_mixed("pump-dead and pump-slow")],
        ),
    ],
)
def test_one_fault_too_many_in_a_group(folder: Path, groups: str, warnings: list[str]) -> None:
    """Two look alike; the third is shown by no test but its own."""
    own = """\
      slow:
        asks: Is the pump slow?
        good: no
        shows: {pump-slow: 0.9}
sources:
"""
    change(folder, {"tests:\n  hold:": THIRD, "sources:\n": own} | ALIKE)
    change(folder, {"ambiguity-groups: []": f"ambiguity-groups: {groups}"})
    assert told(folder) == warnings


def test_three_that_look_alike_and_two_that_are_stated(folder: Path) -> None:
    change(folder, {"tests:\n  hold:": THIRD})
    change(
        folder,
        {
            LEAK: "shows: {valve-leaks: 0.9, pump-dead: 0.9, pump-slow: 0.9}",
            DEAD: "shows: {pump-dead: 0.8, valve-leaks: 0.8, pump-slow: 0.8}",
            "ambiguity-groups: []": "ambiguity-groups: [[pump-dead, pump-slow]]",
        },
    )
    assert told(folder) == [separate("pump-dead and valve-leaks and pump-slow")]
    change(folder, {"[[pump-dead, pump-slow]]": "[[pump-dead, pump-slow, valve-leaks]]"})
    assert told(folder) == []


def test_what_no_test_sees_is_in_no_group(folder: Path) -> None:
    """On the first car both are told as unseen; on the second they look alike."""
    second_car(folder, ", tell-tale")
    change(
        folder,
        {
            "tests:\n  hold:": THIRD,
            "setup: idle": "setup: idle\n    when: [tell-tale]",
            DEAD: "shows: {pump-dead: 0.9, pump-slow: 0.6}",
        },
    )
    text = "expected a test that shows this fault on car, got none"
    assert told(folder) == [
        f"faults.pump-dead: {text}",
        f"faults.pump-slow: {text}",
        separate("pump-dead and pump-slow", "second"),
    ]
    change(folder, {"ambiguity-groups: []": "ambiguity-groups: [[pump-dead, pump-slow]]"})
    assert told(folder) == [f"faults.{name}: {text}" for name in ("pump-dead", "pump-slow")]


def test_a_stated_group_that_nothing_sees_is_not_stale(folder: Path) -> None:
    change(
        folder,
        {
            "tests:\n  hold:": THIRD.replace("[]", "[[pump-dead, valve-leaks]]"),
            "setup: idle": "setup: idle\n    when: [tell-tale]",
            LEAK: "shows: {pump-slow: 0.9}",
            DEAD: "shows: {pump-dead: 0.9, valve-leaks: 0.9}",
        },
    )
    text = "expected a test that shows this fault on car, got none"
    assert told(folder) == [f"faults.{name}: {text}" for name in ("pump-dead", "valve-leaks")]
