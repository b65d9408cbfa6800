"""`baybook marks`: the results of a class, each worked out again from its seed, as a table."""

import csv
import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import click

from baybook.book.asked_readings import asked_readings
from baybook.book.bound import BoundProcedure
from baybook.book.compiled import CompiledBook, compile_book
from baybook.book.plan_means import PlanMeans
from baybook.runtime.page_scripts import book_id
from baybook.verbs.configuration import currency_of, labour_of, site_name_of
from baybook.verbs.folders import A_PATH, CONFIG_OPTION, find_config, sources_of
from baybook.verbs.progress import working
from baybook.verbs.usage_error import Misused, Verb
from baycalc.exercise.result_file import StatedResult, read_result, replay
from baycalc.exercise.setting import NoExercise
from baycalc.isolation.model.bayes_net import Model
from baycalc.isolation.model.read_network import from_data

LARGEST = 1_000_000
"""Bytes of the largest result that is read [-]."""

MEANS_DIFFER = 0.05
"""Part by which the plan's mean of a file may differ from that of the book: it is rounded [-]."""

HEAD = ("file", "student", "exercise", "car", "hidden", "seed", "points", "right", "found wrong")


@dataclass(frozen=True)
class _Row:
    file: str
    student: str = ""
    exercise: str = ""
    car: str = ""
    hidden: str = ""
    seed: str = ""
    points: str = ""
    right: str = ""
    wrong: str = ""

    def cells(self) -> list[str]:
        """Return the cells of the table, safe to open in a spreadsheet."""
        return [_harmless(str(cell)) for cell in vars(self).values()]


@click.command("marks", cls=Verb, help="mark the results of a class anew, as a table (CSV)")
@click.argument("folder", type=A_PATH, metavar="FOLDER")
@click.option("--out", type=A_PATH, metavar="FILE", help="write the table there")
@CONFIG_OPTION
def command(folder: Path, out: Path | None, config: Path) -> int:
    """Replay each result; 1 where something is found wrong, else 0."""
    if not folder.is_dir():
        raise Misused(f"expected a folder with results, got {folder}, which is none")
    config = find_config(config)
    sources = sources_of(config).resolve()
    book = compile_book(sources, labour_of(config), currency_of(config))
    book.refuse_errors()
    with working("working the results out again"):
        rows = list(_Class(book, book_id(site_name_of(config)), sources).rows(folder))
    if out:
        with out.open("w", encoding="utf-8-sig", newline="") as file:
            csv.writer(file).writerows([HEAD, *(row.cells() for row in rows)])
        print(f"wrote {out}: {len(rows)} results")
    else:
        csv.writer(sys.stdout, lineterminator="\n").writerows(
            [HEAD, *(row.cells() for row in rows)]
        )
    return 1 if any(row.wrong for row in rows) else 0


class _Class:
    """The results of a class, and the book that they were worked with."""

    def __init__(self, book: CompiledBook, name: str, sources: Path) -> None:
        self.name = name
        self.cars = {(car.source.id, car.vehicle.id): car for car in book.bound}
        self.means = PlanMeans(sources)
        self.models: dict[str, Model] = {}
        self.seen: dict[str, str] = {}

    def rows(self, folder: Path) -> Iterator[_Row]:
        """Give the row of each file, in the order of the names."""
        rows = [self._row(path, folder) for path in sorted(folder.rglob("*.json"))]
        times = Counter((row.student, row.exercise, row.seed) for row in rows if row.points)
        for row in rows:
            many = times[row.student, row.exercise, row.seed]
            again = f"one of {many} results of this student for this exercise" if many > 1 else ""
            yield replace(row, wrong="; ".join(filter(None, (row.wrong, again))))

    def _row(self, path: Path, folder: Path) -> _Row:
        file = path.relative_to(folder).as_posix()
        try:
            if path.stat().st_size > LARGEST:
                raise NoExercise("It is larger than any result.")
            stated = read_result(path.read_text(encoding="utf-8"))
            return self._replayed(file, stated)
        except (NoExercise, OSError, UnicodeDecodeError) as error:
            return _Row(file, wrong=str(error))

    def _replayed(self, file: str, stated: StatedResult) -> _Row:
        exercise = stated.exercise
        car = self.cars.get((exercise.procedure, exercise.vehicle))
        row = _Row(
            file,
            stated.student,
            exercise.name or exercise.procedure,
            exercise.vehicle,
            " + ".join(exercise.faults),
            str(exercise.seed),
        )
        if stated.book != self.name:
            return replace(row, wrong="was worked with another book")
        if car is None or car.key != exercise.network:
            return replace(row, wrong="its procedure has changed since, or is not in this book")
        wrong = self._mean_problem(stated, car)
        found = replay(
            self._model(car),
            asked_readings(car, car.source.data.tools),
            self._with_mean(stated, car),
        )
        wrong += found.differences
        wrong += self._copied(file, stated)
        if found.marks is None:
            return replace(row, wrong="; ".join(wrong))
        return replace(
            row,
            points=str(found.marks.total),
            right="yes" if found.marks.right else "no",
            wrong="; ".join(wrong),
        )

    def _mean_problem(self, stated: StatedResult, car: BoundProcedure) -> tuple[str, ...]:
        mean = self.means.work_out(stated.exercise, car)
        money = stated.exercise.money
        if abs(money - mean.money) <= MEANS_DIFFER * mean.money:
            return ()
        return (f"says that the plan spends {money:.0f} on its faults, this book {mean.money:.0f}",)

    def _with_mean(self, stated: StatedResult, car: BoundProcedure) -> StatedResult:
        """Take the plan's mean from the book where that of the file is not believed."""
        if not self._mean_problem(stated, car):
            return stated
        mean = self.means.work_out(stated.exercise, car)
        exercise = replace(stated.exercise, minutes=mean.minutes, money=mean.money)
        return replace(stated, exercise=exercise)

    def _copied(self, file: str, stated: StatedResult) -> tuple[str, ...]:
        """Say that another student's file holds the same acts on the same car."""
        other = self.seen.setdefault(stated.answers, file)
        return () if other == file else (f"the same acts in the same order as {other}",)

    def _model(self, car: BoundProcedure) -> Model:
        if car.key not in self.models:
            self.models[car.key] = Model(from_data(car.network))
        return self.models[car.key]


def _harmless(text: str) -> Any:
    """Return a cell that no spreadsheet takes for a formula."""
    return f"'{text}" if text[:1] in ("=", "+", "-", "@", "\t", "\r") else text
