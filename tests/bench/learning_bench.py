"""Measures learning: coverage and bias, what it is worth, and folders of many sheets.

python -m tests.bench.learning_bench [SHEETS]
"""

import json
import resource
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path
from typing import Any

from tests.browser.conftest import ROOT
from tests.invented_jobs import Bay, true_values

from baybook.book.compiled import compile_book
from baybook.learning.author_values import with_values
from baybook.learning.em import Experience, estimate
from baybook.learning.patterns import Pattern, pattern_of
from baybook.learning.session import Question, learn_from
from baybook.runtime.page_scripts import book_id
from baybook.verbs.configuration import labour_of, site_name_of
from baybook.verbs.progress import working
from baycalc.isolation.model.bayes_net import Model
from baycalc.isolation.model.read_network import from_data
from baycalc.isolation.planning.policies import by_quick_plan
from baycalc.isolation.report.simulation import Workshop

WEIGHT = 30.0
RUNS = 200
JOBS_OF_A_RUN = 120
CARS = 2000
SHEETS = 100_000


def main() -> None:
    """Print what was measured."""
    small = _network("vacuum-supply", "quillon-tarn", "halden-finch")
    _coverage(small)
    _bias(small)
    _worth(small)
    _many(int(sys.argv[1]) if len(sys.argv) > 1 else SHEETS)


def _network(procedure: str, *cars: str) -> dict[str, Any]:
    bound = compile_book(ROOT / "procedures").bound
    return next(
        car.network for car in bound if car.source.id == procedure and car.vehicle.id in cars
    )


def _jobs(network: dict[str, Any], truth: dict[str, Any], count: int, seed: int) -> Any:
    bay = Bay("a-book", "air", "key", network, truth, seed)
    return Counter(pattern_of(bay.believed, bay.events()) for _ in range(count))


def _learned(network: dict[str, Any], jobs: Counter[Pattern]) -> Any:
    return estimate([Experience(network, jobs)], lambda _: WEIGHT, lambda _: False)


def _coverage(network: dict[str, Any]) -> None:
    hits, all_values = 0, 0
    for seed in range(RUNS):
        truth = true_values(network, WEIGHT, seed)
        jobs = _jobs(network, with_values(network, truth), JOBS_OF_A_RUN, seed)
        for path, one in _learned(network, jobs).values.items():
            hits += one.least <= truth[path] <= one.greatest
            all_values += 1
    print(f"   {RUNS} runs of {JOBS_OF_A_RUN} jobs: 90 % intervals cover {hits / all_values:.1%}")


def _bias(network: dict[str, Any]) -> None:
    for count in (10, 100, 1000):
        off, away, number = 0.0, 0.0, 0
        for seed in range(20):
            truth = true_values(network, WEIGHT, 1000 + seed)
            jobs = _jobs(network, with_values(network, truth), count, seed)
            for path, one in _learned(network, jobs).values.items():
                if path[-1] != "often":
                    off += one.now - truth[path]
                    away += abs(one.now - truth[path])
                    number += 1
        print(
            f"   {count} jobs: mean error of a chance {off / number:+.4f}, "
            f"without its sign {away / number:.4f}"
        )


def _worth(network: dict[str, Any]) -> None:
    """Print what a job costs by the author's plan, the learned one, and one that knows."""
    truth = with_values(network, true_values(network, 6.0, 7))
    found = _learned(network, _jobs(network, truth, 1000, 7)).values
    learned = with_values(network, {path: one.now for path, one in found.items()})
    means = []
    for believed in (network, learned, truth):
        workshop = Workshop(Model(from_data(truth)), by_quick_plan, 3, Model(from_data(believed)))
        worked = [workshop.work(workshop.arrive()) for _ in range(CARS)]
        rate = workshop.model.network.rate
        means.append(sum(car.minutes * rate + car.price for car in worked) / CARS)
    author, now, best = means
    print(
        f"   mean job by the author's plan {author:.0f}, learned from 1000 jobs {now:.0f}, "
        f"with the truth {best:.0f}: {(author - now) / (author - best):.0%} of what is to be had"
    )


def _many(count: int) -> None:
    """Measure a folder of many sheets; those of the demo book again and again, under new ids."""
    demo = [json.loads(path.read_text("utf-8")) for path in (ROOT / "docs/closed-jobs").iterdir()]
    config = ROOT / "mkdocs.yml"
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        for number in range(count):
            sheet = demo[number % len(demo)]
            sheet["id"] = f"{number:032x}"
            place = folder / f"{number // 1000:03}"
            place.mkdir(exist_ok=True)
            (place / f"{number}.json").write_text(json.dumps(sheet), "utf-8")
        began = time.perf_counter()
        question = Question(
            folder, ROOT / "procedures", book_id(site_name_of(config)), labour_of(config)
        )
        lines: list[str] = []
        learn_from(question, lines.append, working)
        seconds = time.perf_counter() - began
    children = resource.getrusage(resource.RUSAGE_CHILDREN)
    own = resource.getrusage(resource.RUSAGE_SELF)
    print(
        f"   {lines[0]}: {seconds:.0f} s; most memory {own.ru_maxrss / 1000:.0f} MB here, "
        f"{children.ru_maxrss / 1000:.0f} MB in a worker"
    )


if __name__ == "__main__":
    main()
