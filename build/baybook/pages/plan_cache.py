"""Works out the plan of every page, on all cores, and keeps the plans until an input changes."""

import functools
import hashlib
import json
import os
import time
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path
from typing import Any

import baycalc
from baybook.workers import map_work
from baycalc import isolation

RARE = 0.04
"""Share of cars below which a branch is not drawn on: a page must stay readable [-]."""

PLANS = Path(".cache", "baybook", "plans")
"""Where a book keeps its plans, beside its configuration."""

KEPT_DAYS = 30
"""How long the cache keeps a plan that no build has used; books may share it [d]."""


def plans_of(
    networks: Iterable[dict[str, Any]], cache: Path, cluster: str = ""
) -> dict[str, dict[str, Any]]:
    """Return the plan of each network, by `plan_key`.

    Parameters
    ----------
    networks : Iterable[dict]
        Networks as `baybook.book.network.network` gives them.
    cache : Path
        Folder that keeps plans between builds.
    cluster : str
        Address of a Dask scheduler that works out what is missing; "" is this machine.
    """
    by_key = {plan_key(network): network for network in networks}
    cache.mkdir(parents=True, exist_ok=True)
    plans = {key: plan for key in by_key if (plan := _read(cache / f"{key}.json"))}
    missing = [key for key in by_key if key not in plans]
    if missing:
        plans |= _work_out(missing, by_key, cache, cluster)
    _drop_unused(cache, by_key)
    return {key: plans[key] for key in by_key}


def _read(path: Path) -> dict[str, Any] | None:
    """Return a kept plan, or nothing where it is not there or not as it was written."""
    try:
        digest, _, text = path.read_bytes().partition(b"\n")
        if hashlib.sha256(text).hexdigest().encode() != digest:
            return None
        path.touch()
    except OSError:
        return None
    plan: dict[str, Any] = json.loads(text)
    return plan


def _keep(path: Path, plan: dict[str, Any]) -> dict[str, Any]:
    """Keep a plan; return it as a later build reads it."""
    text = json.dumps(plan).encode()
    part = path.with_suffix(f".{os.getpid()}.part")
    part.write_bytes(hashlib.sha256(text).hexdigest().encode() + b"\n" + text)
    part.replace(path)
    kept: dict[str, Any] = json.loads(text)
    return kept


def _drop_unused(cache: Path, used: Iterable[str]) -> None:
    """Drop what no build has used for long, and parts that a stopped build has left."""
    oldest = time.time() - KEPT_DAYS * 86400
    names = {f"{key}.json" for key in used}
    for path in [path for path in cache.iterdir() if path.name not in names]:
        with suppress(FileNotFoundError):  # another build was quicker
            if path.stat().st_mtime < oldest:
                path.unlink()


def _work_out(
    missing: list[str], by_key: dict[str, dict[str, Any]], cache: Path, cluster: str
) -> dict[str, dict[str, Any]]:
    found = map_work(_plan, [by_key[key] for key in missing], cluster)
    return {missing[place]: _keep(cache / f"{missing[place]}.json", plan) for place, plan in found}


def _plan(network: dict[str, Any]) -> dict[str, Any]:
    return isolation.plan(network, rare=RARE) | {"first": isolation.first_answers(network)}


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
