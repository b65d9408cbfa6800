"""What a check of one procedure looks at: the procedure, its book, the cars it serves."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from baybook.book.source_model import Figure, Needs, Procedure
from baybook.book.sources.load import Book, ProcedureSource, VehicleSource
from baybook.book.sources.problem_report import Report, name_hint
from baybook.book.sources.read import Path
from baycalc.forms.declare import Calculator


@dataclass(frozen=True, slots=True)
class Context:
    """One procedure under check."""

    book: Book
    source: ProcedureSource
    calculators: Mapping[str, Calculator]
    report: Report
    cars: tuple[VehicleSource, ...]

    @property
    def data(self) -> Procedure:
        """The procedure's front matter."""
        return self.source.data

    def cars_with(self, when: Needs) -> tuple[VehicleSource, ...]:
        """Return the cars that it serves and that a condition means."""
        return tuple(car for car in self.cars if when.fits(car.data.has))

    def figures(
        self, path: Path, name: str, cars: Iterable[VehicleSource]
    ) -> list[tuple[VehicleSource, Figure]]:
        """Return a figure in each car; report once where cars lack it."""
        missing = [car for car in cars if name not in car.data.figures]
        if missing:
            text, hint = missing_figure(name, missing)
            self.report.error(path, text, hint)
        return [(car, car.data.figures[name]) for car in cars if name in car.data.figures]


def missing_figure(name: str, missing: list[VehicleSource]) -> tuple[str, str]:
    """Say that some cars lack a figure."""
    files = ", ".join(car.lines.file for car in missing)
    known = [figure for car in missing for figure in car.data.figures]
    return (
        f"expected a figure of every vehicle that this serves, got {name}; not in {files}",
        name_hint(name, dict.fromkeys(known)),
    )
