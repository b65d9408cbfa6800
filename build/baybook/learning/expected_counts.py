"""How often each fault came and each outcome was brought by each fault, as jobs make it likely.

The expectation of an EM algorithm: what a job leaves open is counted in the shares that the
network gives it. Cars that stored none of the codes never came in; they are counted as the
network expects them (Dempster, Laird and Rubin, 1977, section 4.2; from memory).
"""

from collections import Counter, defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from baybook.book.sources.read import Path
from baybook.learning.author_values import LEAK, brings, often, outside_path
from baybook.learning.patterns import Pattern
from baybook.learning.smoother import Floats, Smoother
from baybook.learning.who_brought import WhoBrought
from baycalc.isolation.model.bayes_net import Key, Model
from baycalc.isolation.model.fault_model import OUTSIDE
from baycalc.isolation.model.read_network import from_data

FAINT = 1e-9
"""Share of a set of faults below which it is not counted [-]."""


@dataclass
class Counts:
    """What jobs make likely, summed up.

    Attributes
    ----------
    jobs, impossible : float
        Jobs weighed, and jobs that cannot be with this network [-].
    brought, tried : dict
        By place of a chance: how often the outcome was brought, and could have been [-].
    came : dict
        By place of a frequency: how often the fault came by itself [-].
    cars : dict
        By the faults that could come: how many cars, and cars' worth of causes [-].
    missing : dict
        By place: the information that jobs leave open; the variance of its score [-].
    """

    jobs: float = 0.0
    impossible: float = 0.0
    brought: dict[Path, float] = field(default_factory=lambda: defaultdict(float))
    tried: dict[Path, float] = field(default_factory=lambda: defaultdict(float))
    came: dict[Path, float] = field(default_factory=lambda: defaultdict(float))
    cars: dict[tuple[Path, ...], float] = field(default_factory=lambda: defaultdict(float))
    missing: dict[Path, float] = field(default_factory=lambda: defaultdict(float))

    def add(self, other: "Counts") -> None:
        """Take in the counts of other jobs."""
        self.jobs += other.jobs
        self.impossible += other.impossible
        for mine, theirs in (
            (self.brought, other.brought),
            (self.tried, other.tried),
            (self.came, other.came),
            (self.missing, other.missing),
        ):
            for path, value in theirs.items():
                mine[path] += value
        for paths, value in other.cars.items():
            self.cars[paths] += value


def expected_counts(
    network: dict[str, Any], jobs: Mapping[Pattern, int], with_missing: bool = False
) -> Counts:
    """Count over the jobs of one network.

    Parameters
    ----------
    network : dict
        The network as plain data, with the values of now [-].
    jobs : mapping
        How many jobs there are of each pattern [-].
    with_missing : bool
        Whether to work out what the jobs leave open.

    Returns
    -------
    counts : Counts
        By place in the source.
    """
    return _Tally(network).run(jobs, with_missing)


class _Tally:
    def __init__(self, network: dict[str, Any]) -> None:
        self.network = network
        self.model = Model(from_data(network))
        self.smoother = Smoother(self.model)
        self.brings = brings(network)
        self.shares: dict[Key, WhoBrought] = {}
        self.roots: dict[str, Floats] = {}
        self.counts = Counts()

    def run(self, jobs: Mapping[Pattern, int], with_missing: bool) -> Counts:
        first: dict[tuple[str, bool], Floats] = {}
        groups: Counter[tuple[str, bool]] = Counter()
        seen: dict[Key, Floats] = {}
        for pattern, number in jobs.items():
            _, weights = self.smoother.weigh(pattern)
            if not weights:
                self.counts.impossible += number
                continue
            self.counts.jobs += number
            group = (pattern.outside, pattern.by_code)
            groups[group] += number
            if group not in first:
                first[group] = np.zeros(len(weights[0]))
            first[group] += number * weights[0]
            for (facts, _), weight in zip(pattern.stages, weights, strict=True):
                places = np.flatnonzero(weight > FAINT)
                inside = number * weight[places]
                for key, likelihood in facts:
                    if key not in self.brings:
                        continue
                    column = self.smoother.column(key)
                    if key not in seen:
                        seen[key] = np.zeros(column.shape)
                    if max(likelihood) == 1.0 and sum(likelihood) == 1.0:
                        seen[key][likelihood.index(1.0), places] += inside
                    else:
                        outcome = np.array(likelihood)[:, None] * column[:, places]
                        seen[key][:, places] += inside * outcome / outcome.sum(axis=0)
            if with_missing:
                self._leave_open(pattern, number, weights)
        for group, weights_of_first in first.items():
            self._count_causes(group, groups[group], weights_of_first, seen, with_missing)
        for key, outcomes in seen.items():
            self._count_outcomes(key, outcomes)
        return self.counts

    def _count_causes(
        self,
        group: tuple[str, bool],
        jobs: int,
        weights: Floats,
        seen: dict[Key, Floats],
        with_missing: bool,
    ) -> None:
        """Count what came by itself, the cars that never came in among them."""
        outside, by_code = group
        prior = self.smoother.prior(outside)
        roots = self._roots(outside)
        if by_code and self.network["codes"]:
            columns = {
                Key("code", code): self.smoother.column(Key("code", code))
                for code in self.network["codes"]
            }
            silent = np.prod([column[0] for column in columns.values()], axis=0)
            met = float((prior * (1.0 - silent)).sum())
            away = prior * silent / (1.0 - met)
            unseen = (1.0 - met) / met
            weights = weights + jobs * unseen * away
            for key, column in columns.items():
                if key in self.brings:
                    if key not in seen:
                        seen[key] = np.zeros(column.shape)
                    seen[key][0] += jobs * unseen * away
            if with_missing:
                self._leave_open_unseen(columns, roots, away, unseen, jobs, outside)
        came = roots @ weights
        paths = often(self.network)
        names = tuple(paths[name] for name in self.model.ids if name != OUTSIDE)
        causes = 0.0
        for number, name in enumerate(self.model.ids):
            if name != OUTSIDE:
                self.counts.came[paths[name]] += float(came[number])
                causes += float(came[number])
        self.counts.cars[names] += causes
        place = outside_path(outside)
        number = self.model.number.get(OUTSIDE, -1)
        if number >= 0:
            self.counts.brought[place] += float(came[number])
            self.counts.tried[place] += float(came[number]) + causes

    def _roots(self, outside: str) -> Floats:
        """Give for each fault and set the chance that it came by itself, not as a knock-on."""
        if outside not in self.roots:
            self.roots[outside] = self._work_out_roots(outside)
        return self.roots[outside]

    def _work_out_roots(self, outside: str) -> Floats:
        faults = self.network["faults"]
        weights = [fault["often"] for fault in faults]
        if OUTSIDE in self.model.number:
            share = self.smoother.outside_share(outside)
            weights.append(share / (1.0 - share) * sum(weights))
        chances = [self.model.network.base * weight / sum(weights) for weight in weights]
        roots = self.smoother.holds.copy()
        sets, links = self.model.sets, self.model.links
        for fault in {child for children in links.values() for child in children}:
            causes = {cause for cause, children in links.items() if fault in children}
            both = [
                place
                for place, members in enumerate(sets.members)
                if fault in members and not causes.isdisjoint(members)
            ]
            never = [0.0 if place == fault else chance for place, chance in enumerate(chances)]
            whole = np.array(sets.prior(chances, links, both))
            only_led_to = (1.0 - chances[fault]) * np.array(sets.prior(never, links, both))
            share = np.divide(only_led_to, whole, out=np.zeros(len(both)), where=whole > 0)
            roots[fault, both] = np.clip(1.0 - share, 0.0, 1.0)
        return roots

    def _count_outcomes(self, key: Key, seen: Floats) -> None:
        shares = self._shares(key)
        all_seen = seen.sum(axis=0)
        for fault, paths in self.brings[key].items():
            tried = all_seen.sum() if fault == LEAK else float(self.smoother.held(fault) @ all_seen)
            for band, path in enumerate(paths):
                self.counts.tried[path] += float(tried)
                self.counts.brought[path] += float((shares.of[fault][:, band] * seen).sum())

    def _shares(self, key: Key) -> WhoBrought:
        if key not in self.shares:
            self.shares[key] = WhoBrought(self.smoother, key, self.brings[key])
        return self.shares[key]

    def _leave_open(self, pattern: Pattern, number: int, weights: list[Floats]) -> None:
        """Add up the information that a job leaves open (Louis, 1982; from memory)."""
        missing = self.counts.missing
        roots = self._roots(pattern.outside)
        causes = {fault["id"]: fault["often"] for fault in self.network["faults"]}
        whole = sum(causes.values())
        for name, path in often(self.network).items():
            share = causes[name] / whole
            came = float(roots[self.model.number[name]] @ weights[0])
            missing[path] += number * came * (1.0 - came) / (share * (1.0 - share)) ** 2
        if OUTSIDE in self.model.number:
            came = float(roots[self.model.number[OUTSIDE]] @ weights[0])
            share = self.smoother.outside_share(pattern.outside)
            path = outside_path(pattern.outside)
            missing[path] += number * came * (1.0 - came) / (share * (1.0 - share)) ** 2
        for (facts, _), weight in zip(pattern.stages, weights, strict=True):
            for key, likelihood in facts:
                if key not in self.brings:
                    continue
                outcome = np.array(likelihood)[:, None] * self.smoother.column(key)
                total = outcome.sum(axis=0)
                share_of = np.divide(outcome, total, out=np.zeros_like(outcome), where=total > 0)
                shares = self._shares(key)
                for fault, paths in self.brings[key].items():
                    tried = 1.0 if fault == LEAK else float(self.smoother.held(fault) @ weight)
                    if tried < FAINT:
                        continue
                    for band, path in enumerate(paths):
                        chance = shares.chances[fault][band]
                        if not 0.0 < chance < 1.0:
                            continue  # the author keeps it: nothing is learned
                        brought = float(((shares.of[fault][:, band] * share_of) @ weight).sum())
                        missing[path] += number * _open(chance, brought, tried)

    def _leave_open_unseen(
        self,
        columns: dict[Key, Floats],
        roots: Floats,
        away: Floats,
        unseen: float,
        jobs: int,
        outside: str,
    ) -> None:
        """Add the information that would lie in the cars that never came in."""
        missing = self.counts.missing
        for key in columns:
            for fault, paths in self.brings.get(key, {}).items():
                chance = self._shares(key).chances[fault][0]
                tried = float(self.smoother.held(fault) @ away)
                mean, square = -tried / (1.0 - chance), tried / (1.0 - chance) ** 2
                missing[paths[0]] += jobs * (unseen * square + unseen**2 * mean**2)
        causes = {fault["id"]: fault["often"] for fault in self.network["faults"]}
        whole = sum(causes.values())
        places = {name: (causes[name] / whole, path) for name, path in often(self.network).items()}
        if OUTSIDE in self.model.number:
            places[OUTSIDE] = (self.smoother.outside_share(outside), outside_path(outside))
        for name, (share, path) in places.items():
            came = float(roots[self.model.number[name]] @ away)
            both = share * (1.0 - share)
            mean = (came - share) / both
            square = (came * (1.0 - share) ** 2 + (1.0 - came) * share**2) / both**2
            missing[path] += jobs * (unseen * square + unseen**2 * mean**2)


def _open(chance: float, brought: float, tried: float) -> float:
    """Give the variance of the score of a chance, given what a job says of it."""
    spared = max(tried - brought, 0.0)
    mean = brought / chance - spared / (1.0 - chance)
    return brought / chance**2 + spared / (1.0 - chance) ** 2 - mean**2
