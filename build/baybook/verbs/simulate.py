"""`baybook simulate`: takes simulated cars through every procedure and keeps the figures."""

import math
import time
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Any

import click
from msgspec import structs

from baybook.book.compiled import CompiledBook, compile_book, count
from baybook.book.simulated import (
    Simulated,
    SimulatedBook,
    simulate,
    write_simulated,
)
from baybook.book.sources.problem_report import name_hint
from baybook.verbs.configuration import labour_of
from baybook.verbs.folders import CLUSTER_OPTION, CONFIG_OPTION, find_config, sources_of
from baybook.verbs.usage_error import Misused, Verb, WholeNumber
from baybook.workers import map_work


@dataclass(frozen=True, slots=True)
class Job:
    """One network to be worked out."""

    key: str
    network: Any
    serves: tuple[str, ...]
    cars: int


@click.command(
    "simulate", cls=Verb, help="take simulated cars through the procedures and keep the figures"
)
@click.argument("procedures", nargs=-1, metavar="[ID]...")
@click.option(
    "--cars", type=WholeNumber(), default=10_000, metavar="N", help="cars for a procedure (10000)"
)
@click.option("--seed", type=WholeNumber(), default=0, help="seed of the chances (0)")
@CLUSTER_OPTION
@click.option("--again", is_flag=True, help="work out anew what is not old too")
@CONFIG_OPTION
def command(
    procedures: tuple[str, ...], cars: int, seed: int, again: bool, cluster: str, config: Path
) -> int:
    """Work out what is old, and write the file after each network: a stop loses little."""
    config = find_config(config)
    sources = sources_of(config).resolve()
    labour = labour_of(config)
    book = compile_book(sources, labour)
    book.refuse_errors()
    _check_arguments(procedures, cars, book.sources.procedures)
    kept = book.simulated
    jobs = list(_jobs(book, cars))
    old = {} if labour != kept.labour_per_hour else kept.networks
    found = {
        job.key: structs.replace(old[job.key], serves=job.serves) for job in jobs if job.key in old
    }
    wanted = [job for job in jobs if _is_wanted(job, procedures, again or job.key not in found)]
    # The largest first, so that no core waits for it at the end.
    wanted.sort(key=lambda job: -len(job.network["faults"]) * len(job.network["tests"]))
    print(f"{count(len(jobs), 'network')}, {len(wanted)} to work out", flush=True)
    for job, figures, seconds in _work_out(wanted, seed, cluster):
        found[job.key] = figures
        write_simulated(sources, SimulatedBook(labour, found))
        plan, guess = figures.outcomes["plan"], figures.outcomes["guess"]
        print(
            f"{', '.join(job.serves)}: {plan.right:.1%} right in {plan.minutes:.0f} min, "
            f"by guess {guess.right:.1%} in {guess.minutes:.0f} min (after {seconds:.0f} s)",
            flush=True,
        )
    print(f"wrote {write_simulated(sources, SimulatedBook(labour, found))}")
    return 0


def _check_arguments(procedures: tuple[str, ...], cars: int, known: Collection[str]) -> None:
    if cars < 1:
        raise Misused(f"expected at least one car, got {cars}")
    for name in procedures:
        if name not in known:
            raise Misused(f"expected a procedure, got {name}", name_hint(name, known))


def _jobs(book: CompiledBook, cars: int) -> Iterator[Job]:
    """Give each network once; the cars of a procedure are shared out over its networks."""
    networks: dict[str, Any] = {}
    serves: dict[str, list[str]] = {}
    of_procedure: dict[str, list[str]] = {}
    for car in book.bound:
        networks.setdefault(car.key, car.network)
        serves.setdefault(car.key, []).append(f"{car.source.id}/{car.vehicle.id}")
        of_procedure.setdefault(car.source.id, []).append(car.key)
    for keys in of_procedure.values():
        each = math.ceil(cars / len(set(keys)))
        for key in dict.fromkeys(keys):
            yield Job(key, networks[key], tuple(serves[key]), each)


def _is_wanted(job: Job, procedures: tuple[str, ...], old: bool) -> bool:
    """Tell whether a network is to be worked out: it is asked for by name, or it is old."""
    return bool({name.split("/")[0] for name in job.serves} & set(procedures)) or (
        old and not procedures
    )


def _work_out(jobs: list[Job], seed: int, cluster: str) -> Iterator[tuple[Job, Simulated, float]]:
    started = time.perf_counter()
    for place, found in map_work(partial(_simulated, seed=seed), jobs, cluster):
        yield jobs[place], found, time.perf_counter() - started


def _simulated(job: Job, seed: int) -> Simulated:
    return simulate(job.network, job.serves, job.cars, seed)
