"""Learned numbers into the sources of a book: all of them at once, or none."""

import tempfile
from collections.abc import Callable, Mapping
from datetime import date
from pathlib import Path
from shutil import copytree

from baybook.book.compiled import compile_book, count
from baybook.book.learned import FILE, LearnedFrom, LearnedValue, learned_bytes, read_learned
from baybook.book.sources.problems import BadSources
from baybook.book.sources.read import Path as FieldPath
from baybook.book.sources.read import dotted
from baybook.learning.learning_round import LearnedProcedure
from baybook.learning.write_back import NoPlace, changed_source


def not_better(found: list[LearnedProcedure]) -> list[str]:
    """Name the procedures whose new values were not shown to foretell jobs better."""
    return [one.id for one in found if one.trial is None or not one.trial.is_better]


def take_over(
    sources: Path, found: list[LearnedProcedure], weight: float, tell: Callable[[str], None]
) -> None:
    """Write what was learned.

    Parameters
    ----------
    sources : Path
        The sources.
    found : list of LearnedProcedure
        What was learned.
    weight : float
        For how many jobs an author's value counts [-]
    tell : callable
        Takes a line on each procedure.

    Raises
    ------
    BadSources
        Where the sources would have a mistake then; nothing is written.
    """
    texts: dict[Path, bytes] = {}
    learned = read_learned(sources)
    for one in found:
        path = next(iter(sorted(sources.rglob(f"{one.id}.md"))))
        before = learned.get(one.id)
        jobs = len(one.jobs) + (before.jobs if before else 0)
        values = {place: value.now for place, value in one.estimates.values.items()}
        values |= {place: value.now for place, value in one.times.items()}
        try:
            text, written, left = changed_source(
                path.read_bytes().decode("utf-8"), values, jobs, date.today()
            )
        except NoPlace as error:
            tell(f"{one.id}: nothing is written: {error}")
            continue
        for place, why in left.items():
            tell(f"{one.id}: {dotted(place)} {why}")
        texts[path] = text.encode("utf-8")
        kept = dict(before.values) if before else {}
        for place, value in written.items():
            kept[dotted(place)] = LearnedValue(value, _weight(one, place, before, weight))
        learned[one.id] = LearnedFrom(jobs, date.today(), kept)
        tell(f"{one.id}: {count(len(written), 'number')} changed")
    texts[sources / FILE] = learned_bytes(learned)
    _try_first(sources, texts)
    for path, data in texts.items():
        beside = path.with_name(path.name + ".tmp")
        beside.write_bytes(data)
        beside.replace(path)


def _weight(
    one: LearnedProcedure, place: FieldPath, before: LearnedFrom | None, weight: float
) -> float:
    value = one.estimates.values.get(place) or one.times[place]
    kept = before.values.get(dotted(place)) if before else None
    return round(value.jobs + (kept.weight if kept else weight), 1)


def _try_first(sources: Path, texts: Mapping[Path, bytes]) -> None:
    """Check the sources as they would be."""
    with tempfile.TemporaryDirectory() as folder:
        trial = Path(folder) / sources.name
        copytree(sources, trial)
        for path, data in texts.items():
            (trial / path.relative_to(sources)).write_bytes(data)
        compiled = compile_book(trial)
        if compiled.errors:
            raise BadSources(compiled.problems, compiled.summary())
