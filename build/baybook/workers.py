"""A map over pieces of work without shared state: by processes here, or by a Dask cluster."""

import importlib
import multiprocessing
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor, as_completed
from typing import Any

RETRIES = 3
"""How often a piece is begun again whose worker died [-]."""


class NoCluster(Exception):
    """The cluster that was named cannot be used; says why."""


def map_work[One, Found](
    function: Callable[[One], Found], work: Sequence[One], cluster: str = ""
) -> Iterator[tuple[int, Found]]:
    """Do pieces of work side by side, and give each with its number as soon as it is done.

    Parameters
    ----------
    function : callable
        Does one piece; of a module, for it goes to other processes.
    work : sequence
        The pieces.
    cluster : str
        Address of a Dask scheduler; without it processes of this machine.

    Raises
    ------
    NoCluster
        Where Dask is not installed or nobody answers at the address.
    """
    return _by_dask(function, work, cluster) if cluster else _here(function, work)


def _here[One, Found](
    function: Callable[[One], Found], work: Sequence[One]
) -> Iterator[tuple[int, Found]]:
    if len(work) == 1:
        yield 0, function(work[0])
        return
    pool = ProcessPoolExecutor(mp_context=multiprocessing.get_context("spawn"))
    try:
        waiting = {pool.submit(function, one): place for place, one in enumerate(work)}
        for done in as_completed(waiting):
            yield waiting.pop(done), done.result()  # what is done is not kept: it may be large
    finally:
        pool.shutdown(wait=False, cancel_futures=True)


def _by_dask[One, Found](
    function: Callable[[One], Found], work: Sequence[One], address: str
) -> Iterator[tuple[int, Found]]:
    try:
        distributed: Any = importlib.import_module("distributed")
    except ImportError as error:
        raise NoCluster("expected Dask's `distributed`, which is not installed") from error
    try:
        client: Any = distributed.Client(address, timeout="10s", set_as_default=False)
    except (OSError, ValueError) as error:
        raise NoCluster(f"expected a Dask scheduler at {address}, got no answer") from error
    with client, client.as_current():
        waiting = {
            client.submit(function, one, pure=False, retries=RETRIES): place
            for place, one in enumerate(work)
        }
        for done in distributed.as_completed(list(waiting)):
            yield waiting.pop(done), done.result()
