"""A book read, checked and bound to its cars: once, for the checks, the pages and the planner."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from baybook.book.bound import BoundProcedure, bind
from baybook.book.checks.check_book import check_book
from baybook.book.checks.check_gauges import check_gauges
from baybook.book.checks.check_isolation import check_isolation
from baybook.book.equipment import Variant, variants
from baybook.book.learned import LearnedFrom, read_learned
from baybook.book.pint_quantities import unit_table_data
from baybook.book.simulated import SimulatedBook, check_simulated, kept_figures
from baybook.book.sources.load import Book, load_book
from baybook.book.sources.problems import BadSources, Problem
from baycalc import api


@dataclass(frozen=True, slots=True)
class CompiledBook:
    """The sources, what is wrong with them, and each procedure for each of its cars.

    ``bound`` is empty while there is an error.
    """

    sources: Book
    problems: tuple[Problem, ...]
    bound: tuple[BoundProcedure, ...]
    simulated: SimulatedBook
    variants: tuple[Variant, ...] = ()
    """The pages of its procedures."""
    learned: Mapping[str, LearnedFrom] = field(default_factory=dict)
    """What closed jobs have taught, by procedure."""

    def page_names(self) -> dict[tuple[str, str], str]:
        """Return the name of the page that serves a car, by procedure and car."""
        return {
            (variant.source.id, car.id): variant.name
            for variant in self.variants
            for car in variant.cars
        }

    @property
    def errors(self) -> list[Problem]:
        """The mistakes that stop a build."""
        return [problem for problem in self.problems if problem.severity == "error"]

    def summary(self) -> str:
        """Write how much was checked, and how much is wrong."""
        book, errors = self.sources, len(self.errors)
        vehicles = len(book.vehicles) + sum(name.startswith("vehicles/") for name in book.left_out)
        return (
            f"{count(len(book.procedure_names()), 'procedure')}, {count(vehicles, 'vehicle')}: "
            f"{count(errors, 'error')}, {count(len(self.problems) - errors, 'warning')}"
        )

    def refuse_errors(self) -> None:
        """Stop where a source is wrong.

        Raises
        ------
        BadSources
            With every problem of every source.
        """
        if self.errors:
            raise BadSources(self.problems, self.summary())


def compile_book(folder: Path, labour_per_hour: float = 60.0, currency: str = "") -> CompiledBook:
    """Read and check a folder of sources, and bind its procedures to its cars.

    Parameters
    ----------
    folder : Path
        The sources.
    labour_per_hour : float
        What an hour of work costs, in the book's currency [1/h]
    currency : str
        Its sign.
    """
    api.install(unit_table_data())
    book = load_book(folder)
    problems = check_book(book, {name: api.describe(name) for name in api.names()})
    if any(problem.severity == "error" for problem in problems):
        return CompiledBook(book, tuple(problems), (), SimulatedBook())
    bound = bind(book, labour_per_hour, currency)
    # What a procedure can do is worth saying once no mistake is left.
    more = [
        *check_isolation(bound),
        *check_gauges(bound, book.shared.tools),
        *check_simulated(bound, folder),
    ]
    return CompiledBook(
        book,
        tuple(sorted([*problems, *more])),
        tuple(bound),
        kept_figures(folder),
        tuple(variants(book)),
        read_learned(folder),
    )


def count(number: int, what: str) -> str:
    """Write a number of things."""
    return f"{number} {what}" + ("" if number == 1 else "s")
