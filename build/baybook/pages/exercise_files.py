"""What an exercise needs of the page beside its network: how each reading is judged on its car."""

from collections.abc import Sequence
from typing import Any

from baybook.book.asked_readings import asked_readings
from baybook.book.compiled import CompiledBook
from baybook.pages.render import taken
from baybook.pages.site import Page
from baybook.pages.values_once import with_values_once


def exercise_files(book: CompiledBook, _pages: Sequence[Page]) -> dict[str, str]:
    """Return a file for each procedure, for when an exercise is opened: text by address."""
    found: dict[str, dict[str, Any]] = {}
    for car in book.bound:
        found.setdefault(car.source.id, {})[car.vehicle.id] = {
            "network": car.key,
            "vehicle": car.vehicle.id,
            "readings": asked_readings(car, car.source.data.tools),
        }
    return {
        f"assets/exercises/{procedure}.js": taken("exercise", with_values_once(cars))
        for procedure, cars in found.items()
    }
