"""`baybook exercise`: a job with a hidden fault, worked in the terminal or given out as a token."""

import json
import secrets
from collections.abc import Iterator
from dataclasses import replace
from itertools import islice
from pathlib import Path

import click

from baybook.book.asked_readings import asked_readings
from baybook.book.bound import BoundProcedure
from baybook.book.compiled import CompiledBook, compile_book
from baybook.book.plan_means import KeptMean, PlanMeans, good_seeds
from baybook.book.sources.problems import close_match
from baybook.runtime.page_scripts import book_id
from baybook.verbs.configuration import currency_of, labour_of, site_name_of
from baybook.verbs.exercise_terminal import work_in_terminal
from baybook.verbs.folders import A_PATH, CONFIG_OPTION, find_config, sources_of
from baybook.verbs.progress import working
from baybook.verbs.usage_error import Misused, OneOf, Verb, WholeNumber
from baycalc.exercise.desk import result_name
from baycalc.exercise.hidden_car import HiddenCar, drawn_faults
from baycalc.exercise.result_file import result_data
from baycalc.exercise.run import ExerciseRun
from baycalc.exercise.seal import seal, unseal
from baycalc.exercise.setting import HELPS, MOST_FAULTS, NO_FAULT, Exercise, NoExercise
from baycalc.isolation.model.bayes_net import Model
from baycalc.isolation.model.read_network import from_data


@click.command("exercise", cls=Verb, help="work a job with a hidden fault, or give it out")
@click.argument("what", metavar="PROCEDURE/VEHICLE|TOKEN")
@click.option("--faults", default="", metavar="A,B", help="hide these; none for a good car")
@click.option("--codes", default="", metavar="A,B", help="codes that are stored")
@click.option("--seed", type=WholeNumber(), metavar="N", help="first seed tried")
@click.option("--advice", type=OneOf(HELPS), default="off", help="off, on-demand, on")
@click.option("--give", type=WholeNumber(), default=0, metavar="N", help="print N tokens instead")
@click.option("--links", is_flag=True, help="print links below the book's first page instead")
@click.option("--student", default="", metavar="NAME", help="who works, for the result")
@click.option("--out", type=A_PATH, metavar="FOLDER", help="where the result goes")
@CONFIG_OPTION
def command(
    what: str,
    faults: str,
    codes: str,
    seed: int | None,
    advice: str,
    give: int,
    links: bool,
    student: str,
    out: Path | None,
    config: Path,
) -> int:
    """Set an exercise; print tokens of it, or work it here."""
    config = find_config(config)
    sources = sources_of(config).resolve()
    book = compile_book(sources, labour_of(config), currency_of(config))
    book.refuse_errors()
    if "/" not in what:
        exercise, car = _opened(book, what)
    else:
        car = _bound(book, what)
        wanted = Exercise(
            procedure=car.source.id,
            vehicle=car.vehicle.id,
            network=car.key,
            seed=secrets.randbelow(10**6) if seed is None else seed,
            faults=tuple(filter(None, faults.split(","))),
            codes=tuple(filter(None, codes.split(","))) if codes else None,
            help=advice,
        )
        set_ones = _set(wanted, car, PlanMeans(sources))
        if give or links:
            page = book.page_names()[car.source.id, car.vehicle.id] if links else ""
            for one in islice(set_ones, give or 1):
                print(_link(one, page) if links else seal(one), flush=True)
            return 0
        with working("setting the exercise"):
            exercise = next(set_ones)
    run = ExerciseRun(
        Model(from_data(car.network)), exercise, asked_readings(car, car.source.data.tools)
    )
    acts = work_in_terminal(run)
    if not run.ended:
        return 1
    _write(run, acts, book_id(site_name_of(config)), student, out)
    return 0


def _bound(book: CompiledBook, what: str) -> BoundProcedure:
    procedure, _, vehicle = what.partition("/")
    for car in book.bound:
        if (car.source.id, car.vehicle.id) == (procedure, vehicle):
            return car
    known = [f"{car.source.id}/{car.vehicle.id}" for car in book.bound]
    raise Misused(
        f"expected a procedure and a car that it serves, got {what}", close_match(what, known)
    )


def _opened(book: CompiledBook, token: str) -> tuple[Exercise, BoundProcedure]:
    try:
        exercise = unseal(token)
    except NoExercise as error:
        raise Misused(
            f"expected PROCEDURE/VEHICLE or a token, got {token[:40]}", str(error)
        ) from None
    car = _bound(book, f"{exercise.procedure}/{exercise.vehicle}")
    if car.key != exercise.network:
        raise Misused(
            "expected an exercise of this book, got one whose procedure has changed since"
        )
    return exercise, car


def _set(wanted: Exercise, car: BoundProcedure, means: PlanMeans) -> Iterator[Exercise]:
    """Give exercises by seed: with the faults that are wanted, or each with its own."""
    model = Model(from_data(car.network))
    try:
        HiddenCar(model, wanted if wanted.faults else replace(wanted, faults=(NO_FAULT,)))
    except NoExercise as error:
        hint = f"the faults are {', '.join(model.ids)}, none; up to {MOST_FAULTS} of them"
        raise Misused(str(error), hint) from None
    if wanted.faults:
        for seed in good_seeds(wanted, car, wanted.seed):
            yield _with_mean(replace(wanted, seed=seed), means.work_out(wanted, car))
    seed = wanted.seed
    while True:
        drawn = replace(wanted, faults=drawn_faults(model, seed), seed=seed)
        found = next(good_seeds(drawn, car, seed))
        if found == seed:
            yield _with_mean(drawn, means.work_out(drawn, car))
        seed += 1


def _link(exercise: Exercise, page: str) -> str:
    """Return where an exercise is worked, as seen from the first page of the book."""
    where = f"procedures/{exercise.procedure}/{page}.html?car={exercise.vehicle}"
    return f"{where}#exercise={seal(exercise)}"


def _with_mean(exercise: Exercise, mean: KeptMean) -> Exercise:
    return replace(exercise, minutes=mean.minutes, money=mean.money)


def _write(
    run: ExerciseRun, acts: list[dict[str, str]], book: str, student: str, out: Path | None
) -> None:
    folder = out or Path()
    folder.mkdir(parents=True, exist_ok=True)
    path = folder / result_name(run.exercise, student)
    text = json.dumps(result_data(run, acts, book, student), ensure_ascii=False, indent=1)
    path.write_text(text + "\n", encoding="utf-8")
    print(f"wrote {path}")
