"""A map over processes here or over a Dask cluster: the same results, also when a worker dies."""

import json
import math
import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path

import pytest
from tests.invented_jobs import Bay, write_sheets

from baybook.book.compiled import compile_book
from baybook.cli import main
from baybook.learning.session import Question, learn_from
from baybook.pages.plan_cache import plans_of
from baybook.verbs.progress import working
from baybook.workers import NoCluster, map_work


def slow_square(job: tuple[int, str]) -> tuple[int, int]:
    """Square a number slowly, and leave a file that says which process began it."""
    number, folder = job
    (Path(folder) / f"{number}-{os.getpid()}").touch()
    time.sleep(0.02)
    return number * number, os.getpid()


def test_here_each_result_comes_with_its_number() -> None:
    assert dict(map_work(math.isqrt, [9, 25, 49])) == {0: 3, 1: 5, 2: 7}
    assert dict(map_work(math.isqrt, [16])) == {0: 4}
    assert dict(map_work(math.isqrt, [])) == {}


@pytest.fixture
def cluster(tmp_path: Path) -> Iterator[tuple[str, list[subprocess.Popen[bytes]]]]:
    """A scheduler and two workers on loopback, each a process of its own."""
    found = tmp_path / "scheduler.json"
    quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL}
    root = str(Path(__file__).parents[2])
    paths = os.pathsep.join([root, *filter(None, [os.environ.get("PYTHONPATH")])])
    environment = {**os.environ, "PYTHONPATH": paths}
    common = ["--scheduler-file", str(found), "--host", "127.0.0.1", "--no-dashboard"]

    def start(program: str, *words: str) -> subprocess.Popen[bytes]:
        command = [sys.executable, "-m", f"distributed.cli.{program}", *common, *words]
        return subprocess.Popen(command, env=environment, cwd=tmp_path, **quiet)

    scheduler = start("dask_scheduler", "--port", "0")
    own = ("--nthreads", "1", "--no-nanny", "--local-directory", str(tmp_path))
    workers = [start("dask_worker", *own) for _ in range(2)]
    try:
        until = time.monotonic() + 60
        while not found.exists() and time.monotonic() < until:
            time.sleep(0.1)
        address = json.loads(found.read_text("utf-8"))["address"]
        with import_module("distributed").Client(
            address, timeout="60s", set_as_default=False
        ) as client:
            client.wait_for_workers(2, timeout=60)
        yield address, workers
    finally:
        for process in [*workers, scheduler]:
            process.kill()
            process.wait()


@pytest.mark.filterwarnings("ignore")  # of Dask's own
def test_a_worker_killed_half_way_loses_nothing(
    cluster: tuple[str, list[subprocess.Popen[bytes]]], tmp_path: Path
) -> None:
    address, workers = cluster
    marks = tmp_path / "marks"
    marks.mkdir()
    work = [(number, str(marks)) for number in range(200)]
    found: dict[int, int] = {}
    pids: set[int] = set()
    for place, (result, pid) in map_work(slow_square, work, address):
        found[place] = result
        pids.add(pid)
        if len(found) >= 20 and len(pids) == 2 and workers[0].poll() is None:
            workers[0].send_signal(signal.SIGKILL)
    assert workers[0].poll() == -signal.SIGKILL
    assert found == {number: number * number for number in range(200)}
    assert len(list(marks.iterdir())) >= 200


@pytest.mark.filterwarnings("ignore")
def test_a_build_and_a_simulation_are_the_same_by_a_cluster(
    cluster: tuple[str, list[subprocess.Popen[bytes]]],
    book_folder: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    address, _ = cluster
    (book_folder / "mkdocs.yml").write_text("site_name: x\nplugins: [baybook]\n")
    monkeypatch.chdir(book_folder)
    figures = book_folder / "procedures" / "simulated.json"
    made = []
    for more in ([], ["--cluster", address]):
        assert main(["simulate", "--cars", "20", "--again", *more]) == 0
        made.append(figures.read_bytes())
    assert made[0] == made[1]
    networks = [car.network for car in compile_book(book_folder / "procedures").bound]
    here = plans_of(networks, book_folder / "here")
    there = plans_of(networks, book_folder / "there", address)
    assert here == there
    kept = [sorted((book_folder / name).iterdir()) for name in ("here", "there")]
    assert [path.read_bytes() for path in kept[0]] == [path.read_bytes() for path in kept[1]]


@pytest.mark.filterwarnings("ignore")
def test_learning_is_the_same_by_a_cluster(
    cluster: tuple[str, list[subprocess.Popen[bytes]]], book_folder: Path
) -> None:
    sources = book_folder / "procedures"
    car = compile_book(sources).bound[0]
    bay = Bay("a-book", "air", car.fingerprint, car.network, car.network, 4)
    write_sheets(book_folder / "sheets", bay.sheets(30))
    (book_folder / "sheets" / "none.json").write_text("{", "utf-8")
    said: list[list[str]] = []
    for address in ("", cluster[0]):
        lines: list[str] = []
        question = Question(
            book_folder / "sheets", sources, "a-book", 60.0, everything=True, cluster=address
        )
        learn_from(question, lines.append, working)
        said.append(lines)
    assert said[0] == said[1]
    assert said[0][0] == "31 files: 30 sheets used"


@pytest.mark.filterwarnings("ignore")
def test_nobody_at_the_address(monkeypatch: pytest.MonkeyPatch) -> None:
    distributed = import_module("distributed")
    real = distributed.Client

    def impatient(address: str, **more: object) -> object:
        return real(address, **(more | {"timeout": "1s"}))

    monkeypatch.setattr(distributed, "Client", impatient)
    with pytest.raises(NoCluster, match=r"expected a Dask scheduler at tcp://127\.0\.0\.1:9"):
        list(map_work(math.isqrt, [1], "tcp://127.0.0.1:9"))


def test_without_dask_it_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "distributed", None)
    with pytest.raises(NoCluster, match="which is not installed"):
        list(map_work(math.isqrt, [1], "tcp://127.0.0.1:9"))
