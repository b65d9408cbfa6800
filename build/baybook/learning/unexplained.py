"""What no learning of chances mends: causes that are not in the list, tests that tell nothing."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from baybook.learning.closed_jobs import ClosedJob

ENOUGH = 20
"""Jobs from which a test that was never abnormal is named; common practice, no source [-]."""

SHOWN = 4
"""Things in common that are named [-]."""

LIFT = 1.5
"""How many times as common as in other jobs a thing must be to be named; common practice, no
source [-]."""


@dataclass(frozen=True)
class InCommon:
    """What unexplained jobs had in common.

    Attributes
    ----------
    what : str
        A code, a complaint, or a test that was not normal.
    jobs : int
        Unexplained jobs that had it [-].
    usual : float
        Share of the explained jobs that had it [-].
    """

    what: str
    jobs: int
    usual: float


@dataclass(frozen=True)
class Unexplained:
    """Jobs whose cause was not in the list, or never found.

    Attributes
    ----------
    jobs, of : int
        How many, of how many [-].
    common : tuple of InCommon
        What they had in common, the most telling first.
    """

    jobs: int
    of: int
    common: tuple[InCommon, ...]


def unexplained(jobs: Iterable[ClosedJob]) -> Unexplained:
    """Find what the jobs without an explanation had in common."""
    all_jobs = list(jobs)
    without = [job for job in all_jobs if job.unexplained]
    explained = [job for job in all_jobs if not job.unexplained]
    usual = Counter(word for job in explained for word in _words(job))
    here = Counter(word for job in without for word in _words(job))
    common = [
        InCommon(word, number, usual[word] / len(explained) if explained else 0.0)
        for word, number in here.items()
        if number > 1
    ]
    common = [one for one in common if one.jobs / len(without) >= LIFT * one.usual]
    common.sort(key=lambda one: (one.usual - one.jobs / len(without), one.what))
    return Unexplained(len(without), len(all_jobs), tuple(common[:SHOWN]))


def _words(job: ClosedJob) -> Iterable[str]:
    yield from (f"code {code}" for code in job.codes)
    yield from (f"complaint {name}" for name in job.complaints)
    yield from (f"{test} not normal" for test in job.abnormal)


def silent_tests(jobs: Iterable[ClosedJob]) -> list[tuple[str, int]]:
    """Give the tests that were done often and never told anything, each with its jobs [-]."""
    normal: Counter[str] = Counter()
    abnormal: set[str] = set()
    for job in jobs:
        normal.update(job.normal)
        abnormal.update(job.abnormal)
    return sorted(
        (test, number)
        for test, number in normal.items()
        if number >= ENOUGH and test not in abnormal
    )


def skipped(jobs: Iterable[ClosedJob]) -> list[tuple[str, int]]:
    """Give the tests and steps that were left out, most often first, each with its jobs [-]."""
    return Counter(name for job in jobs for name in job.skipped).most_common()
