"""A round of learning from end to end: a folder of sheets, what it says, and into the sources."""

from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from contextlib import AbstractContextManager
from dataclasses import dataclass
from pathlib import Path

from baybook.book.compiled import CompiledBook, compile_book, count
from baybook.book.learned import LearnedFrom, read_learned, weights_of
from baybook.book.sources.read import Path as FieldPath
from baybook.book.sources.read import dotted
from baybook.learning.author_values import places
from baybook.learning.learning_round import (
    LearnedProcedure,
    NetworksOfBook,
    ReadFolder,
    learn,
    read_folder,
)
from baybook.learning.learning_table import procedure_lines
from baybook.learning.plan_change import PlanChange, plan_change

SHOWN = 10
"""Sheets left out that are named, where not all are asked for [-]."""


@dataclass(frozen=True)
class Question:
    """What is asked of a folder of sheets.

    Attributes
    ----------
    folder, sources : Path
        The sheets, and the sources of the book.
    book : str
        Id of the book.
    labour_per_hour : float
        What an hour of work costs, in the book's currency [1/h]
    weight : float
        For how many jobs an author's value counts [-]
    cars : int
        Simulated cars for each plan [-]
    everything : bool
        Whether to tell every value and every file left out.
    cluster : str
        Address of a Dask scheduler, or "".
    """

    folder: Path
    sources: Path
    book: str
    labour_per_hour: float
    weight: float = 30.0
    cars: int = 0
    everything: bool = False
    cluster: str = ""


Working = Callable[[str], AbstractContextManager[None]]
"""Shows what is being done while it lasts."""


def learn_from(
    question: Question, tell: Callable[[str], None], working: Working
) -> list[LearnedProcedure]:
    """Read a folder, weigh its jobs, and tell what they say.

    Parameters
    ----------
    question : Question
        What is asked.
    tell : callable
        Takes each line.
    working : callable
        Shows what is being done.

    Returns
    -------
    found : list of LearnedProcedure
        Those that had jobs.

    Raises
    ------
    BadSources
        Where the sources have a mistake.
    """
    compiled = compile_book(question.sources, question.labour_per_hour)
    compiled.refuse_errors()
    book = _networks(compiled, question.book)
    before = read_learned(question.sources)
    with working("reading the sheets"):
        read = read_folder(question.folder, book, question.cluster)
    for line in _left_out_lines(read, question.everything):
        tell(line)
    known = {name: _known(compiled, name) for name in book.procedures}
    weights = {
        name: _weights(book, name, before[name]) for name in book.procedures if name in before
    }
    with working("weighing the jobs"):
        found = learn(read, book, question.weight, weights, known, question.cluster)
    for learned in found:
        with working(f"trying the plan of {learned.id}"):
            change = _change(learned, question.cars)
        tell("")
        for line in procedure_lines(learned, change, question.everything):
            tell(line)
    return found


def _networks(compiled: CompiledBook, name: str) -> NetworksOfBook:
    keys: dict[str, dict[str, None]] = {}
    for car in compiled.bound:
        keys.setdefault(car.source.id, {})[car.fingerprint] = None
    networks = {car.fingerprint: car.network for car in compiled.bound}
    return NetworksOfBook(name, networks, {each: tuple(found) for each, found in keys.items()})


def _known(compiled: CompiledBook, procedure: str) -> Iterable[FieldPath]:
    """Give the places that the author keeps, and those that a figure of the car fills."""
    source = compiled.sources.procedures[procedure].data
    yield from (tuple(text.split(".")) for text in source.known)
    for name, fault in source.faults.items():
        if fault.often != fault.often:  # a figure of the car stands there as no number
            yield ("faults", name, "often")
        if fault.repair.minutes != fault.repair.minutes:
            yield ("faults", name, "repair", "minutes")
        if fault.repair.price != fault.repair.price:
            yield ("faults", name, "repair", "price")
    for name, test in source.tests.items():
        if test.minutes != test.minutes:
            yield ("tests", name, "minutes")


def _weights(
    book: NetworksOfBook, procedure: str, learned: LearnedFrom
) -> Mapping[FieldPath, float]:
    found = {
        dotted(place.path): place
        for key in book.procedures[procedure]
        for place in places(book.networks[key])
    }
    kept = weights_of(learned, {name: place.value for name, place in found.items()})
    return {found[name].path: weight for name, weight in kept.items()}


def _left_out_lines(read: ReadFolder, everything: bool) -> Iterable[str]:
    used = len({sheet for jobs in read.jobs.values() for sheet, _ in jobs})
    yield f"{count(read.files, 'file')}: {count(used, 'sheet')} used"
    shown = read.left_out if everything else read.left_out[:SHOWN]
    for sheet in shown:
        yield f"left out: {sheet.file}: {sheet.why}"
    if len(read.left_out) > len(shown):
        yield f"and {len(read.left_out) - len(shown)} more left out (--all names them)"


def _change(learned: LearnedProcedure, cars: int) -> PlanChange:
    """Try the plan of the set of equipment that had most jobs."""
    key = Counter(job.network for job in learned.jobs).most_common(1)[0][0]
    values = {path: one.now for path, one in learned.estimates.values.items()}
    return plan_change(learned.networks[key], values, cars)
