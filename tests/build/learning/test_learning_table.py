"""What `baybook learn` says of jobs: the values, and what the jobs had in common."""

from dataclasses import replace
from typing import Any

from baybook.learning.closed_jobs import ClosedJob
from baybook.learning.em import Estimates, Learned
from baybook.learning.learning_round import LearnedProcedure
from baybook.learning.learning_table import procedure_lines
from baybook.learning.unexplained import unexplained

NO_PATTERN: Any = None
JOB = ClosedJob("key", NO_PATTERN, (), ("P0411",), (), (), ("hold",), (), False, 1, 0)


def lines(jobs: tuple[ClosedJob, ...], *values: Learned) -> list[str]:
    found = Estimates({one.path: one for one in values}, 5, True, len(jobs), 0)
    return list(procedure_lines(LearnedProcedure("air", found, {}, None, jobs), None, False))


def test_what_stands_out_most_from_what_is_not_known_comes_first() -> None:
    """A change of 0.1 against an interval of 0.1, before one of 0.2 against 0.8."""
    wide = Learned(("faults", "a", "sets", "P0411"), 0.5, 0.7, 0.1, 0.9, 10)
    narrow = Learned(("faults", "b", "sets", "P0411"), 0.5, 0.6, 0.55, 0.65, 10)
    said = [line for line in lines((JOB,), wide, narrow) if "|" in line]
    assert ["faults.b" in line for line in said] == [True, False]


def test_an_interval_is_drawn_from_nothing_to_one() -> None:
    sure = Learned(("faults", "a", "sets", "P0411"), 0.5, 1.0, 0.75, 1.0, 10)
    (said,) = [line for line in lines((JOB,), sure) if "|" in line]
    assert said.endswith(f"|{' ' * 12}○{' ' * 5}{'─' * 6}●|")


def test_the_three_that_were_left_out_most_are_named() -> None:
    jobs = [replace(JOB, skipped=names) for names in ("abcd", "abc", "ab", "a")]
    assert "  left out most often: a (4), b (3), c (2)" in lines(tuple(jobs))


def test_what_unexplained_jobs_have_in_common() -> None:
    """Two of two stored the code; of the jobs with a cause none did, or there were none."""
    unknown = replace(JOB, unexplained=True)
    (code,) = unexplained([unknown, unknown]).common
    assert (code.what, code.jobs, code.usual) == ("code P0411", 2, 0.0)
    other = replace(JOB, codes=())
    (one, *_) = unexplained([unknown, unknown, other, other]).common
    assert (one.what, one.jobs, one.usual) == ("code P0411", 2, 0.0)
