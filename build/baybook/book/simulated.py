"""What simulated cars tell of the procedures: worked out by a command and kept beside the sources.

Taking thousands of cars through a procedure takes minutes. The figures are therefore no part of a
build; each stands for the network that it was worked out from, and for no other one.
"""

from collections.abc import Iterable
from datetime import date
from pathlib import Path
from typing import Any

import msgspec
from msgspec import Struct, field

from baybook.book.bound import BoundProcedure, network_key
from baybook.book.sources.problems import Problem
from baycalc import isolation
from baycalc.isolation.report.metrics import Figures

FILE = "simulated.json"
"""Name of the file in the folder of the sources."""

_HINT = "`baybook simulate` works the figures out anew"


class PolicyFigures(Struct, frozen=True):
    """What became of simulated cars under one policy; see `baycalc.isolation.report.simulation`."""

    cars: int
    right: float
    minutes: float
    money: float
    in_vain: float
    honest: float = 0.0
    bought: float = 0.0


class Simulated(Struct, frozen=True):
    """The figures of one network, with the procedures and cars that have it."""

    serves: tuple[str, ...]
    date: date
    seed: int
    figures: Figures
    outcomes: dict[str, PolicyFigures]


class SimulatedBook(Struct, frozen=True):
    """The file: figures by the key of their network."""

    labour_per_hour: float = 60.0
    networks: dict[str, Simulated] = field(default_factory=dict)


def simulate(data: dict[str, Any], serves: tuple[str, ...], cars: int, seed: int) -> Simulated:
    """Work out the figures of one network.

    Parameters
    ----------
    data : dict
        The network as plain data [-]
    serves : tuple of str
        The procedures and cars that have it [-]
    cars : int
        Simulated cars for each policy [-]
    seed : int
        Seed of the chances [-]
    """
    found = {
        "serves": serves,
        "date": date.today(),
        "seed": seed,
        "figures": isolation.figures(data),
        "outcomes": isolation.simulation(data, cars=cars, seed=seed),
    }
    return msgspec.convert(_rounded(found), Simulated)


def _rounded(data: Any) -> Any:
    """Round figures to what simulated cars can tell."""
    if isinstance(data, float):
        return float(f"{data:.5g}")
    if isinstance(data, dict):
        return {name: _rounded(value) for name, value in data.items()}
    return [_rounded(value) for value in data] if isinstance(data, list) else data


def read_simulated(folder: Path) -> SimulatedBook | None:
    """Return the figures kept in a folder of sources; nothing where there are none.

    Raises
    ------
    msgspec.MsgspecError
        When the file is damaged.
    """
    path = folder / FILE
    return msgspec.json.decode(path.read_bytes(), type=SimulatedBook) if path.exists() else None


def kept_figures(folder: Path) -> SimulatedBook:
    """Return the figures kept in a folder of sources; none where the file is damaged."""
    try:
        return read_simulated(folder) or SimulatedBook()
    except msgspec.MsgspecError:
        return SimulatedBook()


def write_simulated(folder: Path, found: SimulatedBook) -> Path:
    """Keep figures in a folder of sources."""
    path = folder / FILE
    path.write_bytes(msgspec.json.format(msgspec.json.encode(found, order="sorted"), indent=1))
    return path


def check_simulated(bound: Iterable[BoundProcedure], folder: Path) -> list[Problem]:
    """Warn of figures that stand for a network that is no more."""
    file = f"{folder.name}/{FILE}"
    try:
        kept = read_simulated(folder)
    except msgspec.MsgspecError as error:
        what = f"expected figures of simulated cars, got a damaged file: {error}"
        return [Problem(file, 0, "", what, _HINT, "warning")]
    if kept is None:
        return []
    old: dict[str, list[str]] = {}
    known: dict[str, bool] = {}
    for car in bound:
        if car.key not in known:
            rated = car.network | {"rate": kept.labour_per_hour / 60}
            known[car.key] = network_key(rated) in kept.networks
        if not known[car.key]:
            old.setdefault(car.source.id, []).append(car.vehicle.id)
    return [_old_figures(file, procedure, cars) for procedure, cars in old.items()]


def _old_figures(file: str, procedure: str, cars: list[str]) -> Problem:
    what = f"expected figures of the procedure as it is now, got none for {', '.join(cars)}"
    return Problem(file, 0, procedure, what, _HINT, "warning")
