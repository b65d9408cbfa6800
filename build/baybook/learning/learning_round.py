"""One round of learning: a folder of sheets into what they say of every procedure of a book."""

import hashlib
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

import numpy as np

from baybook.book.sources.read import Path as FieldPath
from baybook.learning.author_values import with_values
from baybook.learning.closed_jobs import (
    ClosedJob,
    ReadSheet,
    SheetReader,
    whole_folder,
    without_copies,
)
from baybook.learning.em import Estimates, Experience, Jobs, estimate
from baybook.learning.patterns import Pattern
from baybook.learning.smoother import Smoother
from baybook.learning.work_times import LearnedTime, Span, by_place, learned_times
from baybook.workers import map_work
from baycalc.isolation.model.bayes_net import Model
from baycalc.isolation.model.read_network import from_data

CHUNK = 500
"""Sheets that one worker reads at a time [-]."""

HELD_BACK = 5
"""Of so many jobs one is held back to try the new values on [-]."""


@dataclass(frozen=True)
class NetworksOfBook:
    """What learning has to know of a book.

    Attributes
    ----------
    id : str
        Its id, which stands on its sheets.
    networks : dict
        Its networks as plain data, by key.
    procedures : dict
        The keys of the networks of each procedure.
    """

    id: str
    networks: dict[str, dict[str, Any]]
    procedures: dict[str, tuple[str, ...]]


@dataclass(frozen=True)
class Trial:
    """How well values foretell the jobs that were held back.

    Attributes
    ----------
    jobs : int
        How many were held back [-].
    before, now : float
        Mean logarithm of the chance of one, by the author's values and by those of the other
        jobs; the greater the better [-].
    """

    jobs: int
    before: float
    now: float

    @property
    def is_better(self) -> bool:
        """Whether the new values foretell them better."""
        return self.now > self.before


@dataclass(frozen=True)
class LearnedProcedure:
    """What the jobs say of one procedure.

    Attributes
    ----------
    id : str
        The procedure.
    estimates : Estimates
        Chances and frequencies.
    times : dict
        Minutes, by place.
    trial : Trial, optional
        How they do on jobs held back; none where there are too few.
    jobs : tuple of ClosedJob
        The jobs.
    networks : dict
        The networks that had jobs, by key.
    """

    id: str
    estimates: Estimates
    times: dict[FieldPath, LearnedTime]
    trial: Trial | None
    jobs: tuple[ClosedJob, ...] = ()
    networks: dict[str, dict[str, Any]] = field(default_factory=dict)


@dataclass(frozen=True)
class ReadFolder:
    """The sheets of a folder.

    Attributes
    ----------
    files : int
        How many files there are [-].
    jobs : dict
        The jobs, each with the id of its sheet, by procedure.
    left_out : list of ReadSheet
        What was left out, with its reason.
    """

    files: int
    jobs: dict[str, list[tuple[str, ClosedJob]]]
    left_out: list[ReadSheet]


@dataclass(frozen=True)
class _Chunk:
    folder: Path
    files: list[str]
    book: str
    networks: dict[str, dict[str, Any]]


def read_folder(folder: Path, book: NetworksOfBook, cluster: str = "") -> ReadFolder:
    """Read all sheets of a folder.

    Parameters
    ----------
    folder : Path
        The folder.
    book : NetworksOfBook
        The book.
    cluster : str
        Address of a Dask scheduler, or "".
    """
    files = whole_folder(folder)
    chunks = [
        _Chunk(folder, files[start : start + CHUNK], book.id, book.networks)
        for start in range(0, len(files), CHUNK)
    ]
    parts: dict[int, list[ReadSheet]] = {}
    once = _Once()
    for place, part in map_work(_read_chunk, chunks, cluster):
        parts[place] = [replace(sheet, jobs=tuple(map(once.job, sheet.jobs))) for sheet in part]
    read = [sheet for place in sorted(parts) for sheet in parts[place]]
    kept, copies = without_copies(read)
    procedure_of = {key: name for name, keys in book.procedures.items() for key in keys}
    jobs: dict[str, list[tuple[str, ClosedJob]]] = {}
    for sheet in kept:
        for job in sheet.jobs:
            jobs.setdefault(procedure_of[job.network], []).append((sheet.id, job))
    left_out = [sheet for sheet in kept if sheet.why] + copies
    return ReadFolder(len(files), jobs, sorted(left_out, key=lambda sheet: sheet.file))


class _Once:
    """Keeps what jobs have in common once: many are alike, and memory is short."""

    def __init__(self) -> None:
        self._kept: dict[Any, Any] = {}

    def job(self, job: ClosedJob) -> ClosedJob:
        """Give the same job of parts that are kept already."""
        parts = {name: self._same(getattr(job, name)) for name in _IN_COMMON}
        spans = tuple(
            self._same(Span(self._same(span.paths), span.ratio)) for span in job.spans
        )  # times are whole seconds: there are few that differ
        return replace(job, spans=spans, **parts)

    def _same(self, part: Any) -> Any:
        return self._kept.setdefault(part, part)


_IN_COMMON = ("network", "pattern", "codes", "complaints", "abnormal", "normal", "skipped")


def _read_chunk(chunk: _Chunk) -> list[ReadSheet]:
    reader = SheetReader(chunk.book, chunk.networks)
    return [reader.read(chunk.folder, file) for file in chunk.files]


@dataclass(frozen=True)
class _Work:
    """What a worker needs of one procedure; its jobs are many, and stay where they were read."""

    procedure: str
    networks: dict[str, dict[str, Any]]
    whole: list[Experience]
    kept: list[Experience]
    held_back: list[Experience]
    ratios: dict[FieldPath, list[float]]
    with_complaints: bool
    weights: Mapping[FieldPath, float]
    weight: float
    known: tuple[FieldPath, ...]


def learn(
    read: ReadFolder,
    book: NetworksOfBook,
    weight: float,
    weights: Mapping[str, Mapping[FieldPath, float]],
    known: Mapping[str, Iterable[FieldPath]],
    cluster: str = "",
) -> list[LearnedProcedure]:
    """Learn from what was read.

    Parameters
    ----------
    read : ReadFolder
        The jobs.
    book : NetworksOfBook
        The book.
    weight : float
        For how many jobs an author's value counts [-]
    weights : mapping
        The same for values that were learned before, by procedure and place [-]
    known : mapping
        Places of values that are to stay as they are, by procedure.
    cluster : str
        Address of a Dask scheduler, or "".
    """
    work = [
        _work(
            name,
            {key: book.networks[key] for key in book.procedures[name]},
            jobs,
            weight=weight,
            weights=weights.get(name, {}),
            known=known.get(name, ()),
        )
        for name, jobs in sorted(read.jobs.items())
    ]
    found = dict(map_work(_learn_one, work, cluster))
    return [
        replace(found[place], jobs=tuple(job for _, job in read.jobs[one.procedure]))
        for place, one in enumerate(work)
    ]


def _work(
    procedure: str,
    networks: dict[str, dict[str, Any]],
    jobs: list[tuple[str, ClosedJob]],
    *,
    weight: float,
    weights: Mapping[FieldPath, float],
    known: Iterable[FieldPath],
) -> _Work:
    used = {job.network for _, job in jobs}
    return _Work(
        procedure,
        {key: networks[key] for key in sorted(used)},
        _experience(networks, (job for _, job in jobs)),
        _experience(networks, (job for sheet, job in jobs if not _is_held_back(sheet))),
        _experience(networks, (job for sheet, job in jobs if _is_held_back(sheet))),
        by_place(span for _, job in jobs for span in job.spans),
        any(job.complaints for _, job in jobs),
        dict(weights),
        weight,
        tuple(known),
    )


def _learn_one(work: _Work) -> LearnedProcedure:
    def weight_of(path: FieldPath) -> float:
        return work.weights.get(path, work.weight)

    def is_known(path: FieldPath) -> bool:
        if not work.with_complaints and "complaints" in path:
            return True  # nobody ticks complaints in this workshop: that tells nothing of them
        return any(path[: len(stop)] == stop for stop in work.known)

    whole = estimate(work.whole, weight_of, is_known)
    trial = None
    if work.kept and work.held_back:
        partial = estimate(work.kept, weight_of, is_known)
        new = {path: one.now for path, one in partial.values.items()}
        old = [_log_chances(one.data, one.jobs) for one in work.held_back]
        now = [_log_chances(with_values(one.data, new), one.jobs) for one in work.held_back]
        held = sum(sum(one.jobs.values()) for one in work.held_back)
        trial = Trial(held, sum(old) / held, sum(now) / held)
    times: dict[FieldPath, LearnedTime] = {}
    for network in work.networks.values():
        of_network = learned_times(network, work.ratios, work.weight)
        times = {**of_network, **times}
    return LearnedProcedure(
        work.procedure,
        whole,
        {path: one for path, one in times.items() if not is_known(path)},
        trial,
        networks=work.networks,
    )


def _experience(networks: dict[str, dict[str, Any]], jobs: Iterable[ClosedJob]) -> list[Experience]:
    found: dict[str, Counter[Pattern]] = {}
    for job in jobs:
        found.setdefault(job.network, Counter())[job.pattern] += 1
    return [Experience(networks[key], alike) for key, alike in sorted(found.items())]


def _is_held_back(sheet: str) -> bool:
    return int(hashlib.sha256(sheet.encode()).hexdigest(), 16) % HELD_BACK == 0


def _log_chances(network: dict[str, Any], jobs: Jobs) -> float:
    smoother = Smoother(Model(from_data(network)))
    chances = [number * smoother.weigh(pattern)[0] for pattern, number in jobs.items()]
    return float(np.sum(chances))
