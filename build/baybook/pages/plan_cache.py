"""Works out the plan of every page, on all cores, and keeps the plans until an input changes."""

import functools
import hashlib
import json
import multiprocessing
import os
from collections.abc import Iterable
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path
from typing import Any

import baycalc
from baycalc import isolation

RARE = 0.04
"""Share of cars below which a branch is not drawn on: a page must stay readable [-]."""

KEPT = 400
"""Plans that the cache keeps; other books and other builds may share it [-]."""


def plans_of(networks: Iterable[dict[str, Any]], cache: Path) -> dict[str, dict[str, Any]]:
    """Return the plan of each network, by `plan_key`.

    Parameters
    ----------
    networks : Iterable[dict]
        Networks as `baybook.book.network.network` gives them.
    cache : Path
        Folder that keeps plans between builds.
    """
    by_key = {plan_key(network): network for network in networks}
    cache.mkdir(parents=True, exist_ok=True)
    missing = [key for key in by_key if not (cache / f"{key}.json").exists()]
    if missing:
        _work_out(missing, by_key, cache)
    plans = {key: _read(cache / f"{key}.json") for key in by_key}
    _drop_oldest(cache)
    return plans


def _read(path: Path) -> dict[str, Any]:
    path.touch()
    plan: dict[str, Any] = json.loads(path.read_text("utf-8"))
    return plan


def _drop_oldest(cache: Path) -> None:
    by_age = sorted(cache.glob("*.json"), key=lambda path: path.stat().st_mtime, reverse=True)
    for old in by_age[KEPT:]:
        old.unlink(missing_ok=True)


def _work_out(missing: list[str], by_key: dict[str, dict[str, Any]], cache: Path) -> None:
    with ProcessPoolExecutor(mp_context=multiprocessing.get_context("spawn")) as pool:
        found = pool.map(_plan, [by_key[key] for key in missing])
        for key, plan in zip(missing, found, strict=True):
            part = cache / f"{key}.{os.getpid()}.part"
            part.write_text(json.dumps(plan), "utf-8")
            part.replace(cache / f"{key}.json")


def _plan(network: dict[str, Any]) -> dict[str, Any]:
    return isolation.plan(network, [], rare=RARE)


def plan_key(network: dict[str, Any]) -> str:
    """Return a name for a network's plan that changes with the network and with the planner."""
    digest = hashlib.sha256(_planner())
    digest.update(json.dumps([network, RARE], sort_keys=True).encode())
    return digest.hexdigest()[:24]


@functools.cache
def _planner() -> bytes:
    folder = Path(baycalc.__file__).parent
    files = [folder / "text.py", *sorted((folder / "isolation").rglob("*.py"))]
    return b"".join(path.read_bytes() for path in files)
