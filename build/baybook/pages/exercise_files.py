"""What an exercise needs of the page beside its network: how each reading is judged on this car."""

from collections.abc import Sequence

from baybook.book.asked_readings import asked_readings
from baybook.book.compiled import CompiledBook
from baybook.pages.render import taken
from baybook.pages.site import Page


def exercise_files(book: CompiledBook, _pages: Sequence[Page]) -> dict[str, str]:
    """Return a file for each procedure and car, for when an exercise is opened: text by address."""
    return {
        f"assets/exercises/{car.source.id}/{car.vehicle.id}.js": taken(
            "exercise",
            {
                "network": car.key,
                "vehicle": car.vehicle.id,
                "readings": asked_readings(car, car.source.data.tools),
            },
        )
        for car in book.bound
    }
