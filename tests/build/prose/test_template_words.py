"""What a text asks of a car: only the branches that the car takes."""

from pathlib import Path

import pytest

from baybook.book.prose.template_words import asked, parse
from baybook.book.sources.load import VehicleSource, load_book


@pytest.fixture
def car(book_folder: Path) -> VehicleSource:
    """The car of the small book: of all equipment it has an air pump only."""
    vehicle = load_book(book_folder / "procedures").vehicles["car"]
    assert vehicle.data.has == ("air-pump",)
    return vehicle


@pytest.mark.parametrize(
    ("condition", "figures"),
    [
        ('has("air-pump")', ["yes"]),
        ('has("turbo")', ["no"]),
        ('not has("air-pump")', ["no"]),
        ('not has("turbo")', ["yes"]),
        ('has("air-pump") and not has("turbo")', ["yes"]),
        ('has("air-pump") and has("turbo")', ["no"]),
        ('has("turbo") or has("air-pump")', ["yes"]),
        ('has("turbo") or not has("air-pump")', ["no"]),
        ("vehicle.make", ["yes", "no"]),
        ("not vehicle.make", ["yes", "no"]),
        ('has("turbo") and vehicle.make', ["no"]),
        ('has("air-pump") and vehicle.make', ["yes", "no"]),
        ('has("air-pump") or vehicle.make', ["yes"]),
    ],
)
def test_the_branches_that_a_car_takes(
    car: VehicleSource, condition: str, figures: list[str]
) -> None:
    block = f'{{% if {condition} %}}{{{{ figure("yes") }}}}{{% else %}}{{{{ figure("no") }}}}'
    inline = f'{{{{ figure("yes") if {condition} else figure("no") }}}}'
    for text in (block + "{% endif %}", inline):
        words = list(asked(parse(text), car))
        assert [word.argument for word in words if word.function == "figure"] == figures
        either = [word.argument for word in asked(parse(text), None) if word.function == "figure"]
        assert either == ["yes", "no"]


def test_the_first_arm_that_holds_is_taken(car: VehicleSource) -> None:
    arms = '{% if has("turbo") %}{{ figure("turbo") }}{% elif has("air-pump") %}'
    text = f'{arms}{{{{ figure("pump") }}}}{{% else %}}{{{{ figure("none") }}}}{{% endif %}}'
    words = [word.argument for word in asked(parse(text), car)]
    assert words == ["turbo", "air-pump", "pump"]
