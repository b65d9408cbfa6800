"""The chances of a procedure as closed jobs make them: EM to the end, with intervals."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from scipy.special import betaincinv

from baybook.book.sources.read import Path
from baybook.learning.author_values import places, with_values
from baybook.learning.expected_counts import Counts, expected_counts
from baybook.learning.patterns import Pattern

STEADY = 1e-5
"""Change of a value at which EM ends [-]."""

MOST_ROUNDS = 300
"""Rounds after which EM ends in any case [-]."""

LEVEL = 0.9
"""Level of the intervals [-]."""

Jobs = Mapping[Pattern, int]
"""How many jobs there are of each pattern."""


@dataclass(frozen=True)
class Experience:
    """One network of a procedure with the jobs that were done with it.

    Attributes
    ----------
    data : dict
        The network as plain data [-].
    jobs : mapping
        Its jobs.
    """

    data: dict[str, Any]
    jobs: Jobs


@dataclass(frozen=True)
class Learned:
    """One value with what the jobs say of it.

    Attributes
    ----------
    path : tuple
        Where it stands in the source.
    before, now : float
        The author's value, and the new one [-].
    least, greatest : float
        Bounds of its 90 % interval [-].
    jobs : float
        Expected number of jobs that could tell of it [-].
    """

    path: Path
    before: float
    now: float
    least: float
    greatest: float
    jobs: float


@dataclass(frozen=True)
class Estimates:
    """What the jobs of a procedure say of its values.

    Attributes
    ----------
    values : dict
        By place.
    rounds : int
        Rounds of EM [-].
    steady : bool
        Whether it came to rest.
    jobs, impossible : float
        Jobs weighed, and jobs that cannot be with this network [-].
    """

    values: dict[Path, Learned]
    rounds: int
    steady: bool
    jobs: float
    impossible: float


def estimate(
    networks: list[Experience],
    weight_of: Callable[[Path], float],
    is_known: Callable[[Path], bool],
) -> Estimates:
    """Estimate the values of one procedure from the jobs of all its networks.

    Parameters
    ----------
    networks : list of Experience
        Its networks, one for each set of equipment.
    weight_of : callable
        For how many jobs the author's value counts, by its place.
    is_known : callable
        Whether a value is to stay as it is.

    Returns
    -------
    estimates : Estimates
        The mode of the posterior in the sense of EM with prior counts; each interval is that of
        a beta distribution with the information that the jobs hold, less what they leave open.
    """
    author = {p.path: p.value for network in networks for p in places(network.data)}
    learnt = {path for path in author if not is_known(path)}
    scale = sum(value for path, value in author.items() if _is_often(path))
    prior = {
        path: value / scale if _is_often(path) else _inside(value, weight_of(path))
        for path, value in author.items()
    }
    values = {
        path: prior[path] if path in learnt else _share(author, path, scale) for path in author
    }
    rounds, steady = 0, False
    while not steady and rounds < MOST_ROUNDS:
        rounds += 1
        counts = _counted(networks, values, False)
        new = _maximized(values, prior, counts, learnt, weight_of)
        steady = max(abs(new[path] - values[path]) for path in values) < STEADY
        values = new
    counts = _counted(networks, values, True)
    found = {
        path: _learned(path, author, values, counts, weight_of(path), scale)
        for path in author
        if path in learnt and _tried(path, counts) > 0.0
    }
    return Estimates(found, rounds, steady, counts.jobs, counts.impossible)


def _is_often(path: Path) -> bool:
    return path[-1] == "often"


def _share(author: Mapping[Path, float], path: Path, scale: float) -> float:
    return author[path] / scale if _is_often(path) else author[path]


def _inside(value: float, weight: float) -> float:
    """Keep an author's 0 or 1 apart from never and always by half a job.

    Of what never happens no job could ever tell.
    """
    edge = 0.5 / max(weight, 1.0)
    return min(max(value, min(edge, 0.01)), 1.0 - min(edge, 0.01))


def _counted(
    networks: list[Experience],
    values: Mapping[Path, float],
    with_missing: bool,
) -> Counts:
    whole = Counts()
    for network in networks:
        whole.add(expected_counts(with_values(network.data, values), network.jobs, with_missing))
    return whole


def _maximized(
    values: dict[Path, float],
    prior: dict[Path, float],
    counts: Counts,
    learnt: set[Path],
    weight_of: Callable[[Path], float],
) -> dict[Path, float]:
    new = dict(values)
    for path in learnt:
        weight = weight_of(path)
        if _is_often(path):
            exposure = sum(
                number / sum(values[name] for name in names)
                for names, number in counts.cars.items()
                if path in names
            )
            new[path] = (weight * prior[path] + counts.came[path]) / (weight + exposure)
        else:
            tried = counts.tried[path]
            new[path] = (weight * prior[path] + counts.brought[path]) / (weight + tried)
    return new


def _tried(path: Path, counts: Counts) -> float:
    if _is_often(path):
        return sum(number for names, number in counts.cars.items() if path in names)
    return counts.tried[path]


def _learned(
    path: Path,
    author: Mapping[Path, float],
    values: Mapping[Path, float],
    counts: Counts,
    weight: float,
    scale: float,
) -> Learned:
    value, tried = values[path], _tried(path, counts)
    both = value * (1.0 - value)
    told = max(tried / both - counts.missing[path], 0.0)
    strength = (weight / both + told) * both
    shape = (strength * value, strength * (1.0 - value))
    least, greatest = (
        float(betaincinv(*shape, quantile)) for quantile in ((1 - LEVEL) / 2, (1 + LEVEL) / 2)
    )
    unit = scale if _is_often(path) else 1.0
    return Learned(path, author[path], value * unit, least * unit, greatest * unit, told * both)
