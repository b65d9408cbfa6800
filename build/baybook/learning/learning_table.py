"""What was learned, as lines of text: values with their intervals, drawn; the rest in sentences."""

from collections.abc import Iterable, Iterator

from baybook.book.sources.read import dotted
from baybook.learning.em import Learned
from baybook.learning.learning_round import LearnedProcedure
from baybook.learning.plan_change import PlanChange
from baybook.learning.unexplained import silent_tests, skipped, unexplained
from baybook.learning.work_times import LearnedTime
from baycalc.text import percent

WIDTH = 24
"""Letters of the drawing of an interval [-]."""

MOST = 12
"""Values shown of a procedure, where not all are asked for [-]."""

SKIPPED_SHOWN = 3
"""Skipped tests and steps that are named [-]."""


def procedure_lines(
    learned: LearnedProcedure, change: PlanChange | None, all_values: bool
) -> Iterator[str]:
    """Tell what the jobs say of one procedure.

    Parameters
    ----------
    learned : LearnedProcedure
        What they say.
    change : PlanChange, optional
        What it does to the plan.
    all_values : bool
        Whether to tell every value, or the largest changes.
    """
    found = learned.estimates
    yield f"{learned.id}: {_count(len(learned.jobs), 'job')}"
    rest = "" if found.steady else ", not at rest: take the figures with care"
    yield f"  expectation-maximization: {_count(found.rounds, 'round')}{rest}"
    if found.impossible:
        yield f"  {found.impossible:.0f} of them cannot be with these faults and tests"
    rows = _rows([*found.values.values(), *learned.times.values()])
    shown = rows if all_values else rows[:MOST]
    width = max((len(dotted(row.path)) for row in shown), default=0)
    if shown:
        head = f"  {'value':<{width}}  {'author':>7}  {'jobs':>6}  {'now':>7}  90 % interval"
        yield head
    for row in shown:
        yield (
            f"  {dotted(row.path):<{width}}  {_figure(row.before):>7}  {row.jobs:>6.0f}  "
            f"{_figure(row.now):>7}  {_figure(row.least):>6} to {_figure(row.greatest):<6} "
            f"{_drawn(row)}"
        )
    if len(rows) > len(shown):
        yield f"  and {len(rows) - len(shown)} more, which changed less (--all shows them)"
    yield from _trial_lines(learned)
    yield from change.lines() if change else ()
    yield from _job_lines(learned)


def _rows(values: Iterable[Learned | LearnedTime]) -> list[Learned | LearnedTime]:
    """Sort values: first those whose change stands out most from what is not known."""

    def size(row: Learned | LearnedTime) -> float:
        reach = max(row.greatest - row.least, 1e-9)
        return -abs(row.now - row.before) / reach

    return sorted(values, key=lambda row: (size(row), dotted(row.path)))


def _drawn(row: Learned | LearnedTime) -> str:
    """Draw the interval on a line from nothing to one, or to the greatest of its figures."""
    most = 1.0
    if isinstance(row, LearnedTime) or row.path[-1] == "often":
        most = 1.05 * max(row.greatest, row.before, row.now)
    signs = [" "] * (WIDTH + 1)

    def place(value: float) -> int:
        return min(round(value / most * WIDTH), WIDTH)

    for at in range(place(row.least), place(row.greatest) + 1):
        signs[at] = "─"
    signs[place(row.before)] = "○"
    signs[place(row.now)] = "●"
    return f"|{''.join(signs)}|"


def _trial_lines(learned: LearnedProcedure) -> Iterator[str]:
    trial = learned.trial
    if trial is None:
        yield "  too few jobs to hold some back and try the new values on them"
        return
    verdict = "better" if trial.is_better else "not better"
    yield (
        f"  on {_count(trial.jobs, 'job')} held back: log score {trial.before:.3f} with the "
        f"author's values, {trial.now:.3f} with those of the others: {verdict}"
    )


def _job_lines(learned: LearnedProcedure) -> Iterator[str]:
    open_jobs = unexplained(learned.jobs)
    if open_jobs.jobs:
        yield (
            f"  {open_jobs.jobs} of {_count(open_jobs.of, 'job')} had no cause from the list"
            + (", and in common:" if open_jobs.common else "")
        )
        for one in open_jobs.common:
            yield f"    {one.what}: {one.jobs} of them, else {percent(one.usual)} of the jobs"
    for test, number in silent_tests(learned.jobs):
        yield f"  {test} was done in {_count(number, 'job')} and never told anything"
    left_out = skipped(learned.jobs)[:SKIPPED_SHOWN]
    if left_out:
        named = ", ".join(f"{name} ({number})" for name, number in left_out)
        yield f"  left out most often: {named}"
    proofs = sum(job.proofs for job in learned.jobs)
    back = sum(job.came_back for job in learned.jobs)
    if proofs:
        yield f"  {_count(proofs, 'proof')} passed, after {back} of them the job went on"


def _figure(value: float) -> str:
    return f"{value:.3g}" if value < 100 else f"{value:.0f}"


def _count(number: int, what: str) -> str:
    return f"{number:,} {what}" + ("" if number == 1 else "s")
