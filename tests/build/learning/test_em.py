"""Estimates against general libraries, and against the truth of invented jobs."""

import itertools
import math
from collections import Counter
from random import Random
from typing import Any

import numpy as np
import pytest
from scipy.optimize import minimize
from tests.calc.isolation.bayes import of_pgmpy
from tests.invented_jobs import Bay, true_values

from baybook.learning.author_values import places, with_values
from baybook.learning.em import Estimates, Experience, estimate
from baybook.learning.patterns import Pattern, pattern_of
from baycalc.isolation.inference.evidence import ABNORMAL, NORMAL, Event
from baycalc.isolation.model.bayes_net import Key, Model
from baycalc.isolation.model.read_network import from_data

WEIGHT = 30.0
LOOK = Key("test", "look", "shows")
TRY = Key("test", "try", "fails")


def learned(network: dict[str, Any], jobs: Counter[Pattern], known: Any = ()) -> Estimates:
    return estimate([Experience(network, jobs)], lambda _: WEIGHT, lambda path: path in known)


@pytest.fixture
def open_network(network: dict[str, Any]) -> dict[str, Any]:
    """Two faults; a look that tells them apart without fail, a test that does not."""
    faults = network["faults"][:2]
    for fault in faults:
        fault |= {"sets": {}, "complaints": {}, "leads_to": {}}
    tests = [network["tests"][0] | {"id": "look"}, network["tests"][1] | {"id": "try"}]
    tests[0]["observations"][0] |= {"id": "shows"}
    tests[0]["observations"][0]["bands"][0] |= {"shows": {"hose": 1.0}, "false_alarm": 0.0}
    tests[1]["observations"][0] |= {"id": "fails"}
    tests[1]["observations"][0]["bands"][0] |= {
        "shows": {"hose": 0.7, "valve": 0.2},
        "false_alarm": 0.0,
    }
    return network | {
        "faults": faults,
        "tests": tests,
        "codes": {},
        "complaints": {},
        "outside": {"share": 0.0, "with": {}},
        "base": 1e-12,  # never two at once
    }


LOOKS = {
    ("tests", "look", "observations", "shows", *rest)
    for rest in (("shows", "hose"), ("false-alarm",))
} | {("tests", "try", "observations", "fails", "false-alarm"), ("outside",)}


def _seen_jobs(network: dict[str, Any], rows: list[tuple[int, int]]) -> Counter[Pattern]:
    model = Model(from_data(network))
    signs = (NORMAL, ABNORMAL)
    return Counter(
        pattern_of(model, [Event(LOOK, signs[hose], place=0), Event(TRY, signs[fails], place=1)])
        for hose, fails in rows
    )


@pytest.mark.filterwarnings("ignore:.*will be removed in v1.3.0:FutureWarning")
def test_with_nothing_hidden_they_are_those_of_pgmpy(open_network: dict[str, Any]) -> None:
    """pgmpy 1.1: BayesianEstimator with Dirichlet pseudo counts."""
    import pandas

    rows = [(1, 1)] * 41 + [(1, 0)] * 9 + [(0, 1)] * 6 + [(0, 0)] * 24
    found = learned(open_network, _seen_jobs(open_network, rows), LOOKS).values
    net = of_pgmpy("models", "DiscreteBayesianNetwork")([("hose", "fails")])
    table = pandas.DataFrame(rows, columns=["hose", "fails"]).astype("category")
    estimator = of_pgmpy("estimators", "BayesianEstimator")(net, table)
    often = estimator.estimate_cpd(
        "hose", prior_type="dirichlet", pseudo_counts=[[WEIGHT * 6 / 16], [WEIGHT * 10 / 16]]
    ).get_values()
    shows = estimator.estimate_cpd(
        "fails",
        prior_type="dirichlet",
        pseudo_counts=[[WEIGHT * 0.8, WEIGHT * 0.3], [WEIGHT * 0.2, WEIGHT * 0.7]],
    ).get_values()
    at = ("tests", "try", "observations", "fails", "shows")
    assert found[(*at, "hose")].now == pytest.approx(shows[1][1], abs=1e-6)
    assert found[(*at, "valve")].now == pytest.approx(shows[1][0], abs=1e-6)
    assert found["faults", "hose", "often"].now / 16 == pytest.approx(often[1][0], abs=1e-6)


def test_with_hidden_faults_they_are_the_greatest_of_the_posterior(
    open_network: dict[str, Any],
) -> None:
    """SciPy's minimizer on the posterior, the sum over the hidden fault written out by hand."""
    rows = [(0, 1)] * 30 + [(0, 0)] * 50
    model = Model(from_data(open_network))
    signs = (NORMAL, ABNORMAL)
    jobs = Counter(pattern_of(model, [Event(TRY, signs[fails], place=0)]) for _, fails in rows)
    found = learned(open_network, jobs, LOOKS).values

    def minus_log(point: Any) -> float:
        share, hose, valve = 1 / (1 + np.exp(-point))
        bad = share * hose + (1 - share) * valve
        prior = sum(
            WEIGHT * (mean * math.log(value) + (1 - mean) * math.log(1 - value))
            for mean, value in ((10 / 16, share), (0.7, hose), (0.2, valve))
        )
        return float(-(30 * math.log(bad) + 50 * math.log(1 - bad) + prior))

    best = 1 / (1 + np.exp(-minimize(minus_log, np.zeros(3), tol=1e-14).x))
    at = ("tests", "try", "observations", "fails", "shows")
    got = (
        found["faults", "hose", "often"].now / 16,
        found[(*at, "hose")].now,
        found[(*at, "valve")].now,
    )
    assert got == pytest.approx(tuple(best), abs=1e-4)


def test_a_chance_of_what_was_not_seen_stays(network: dict[str, Any]) -> None:
    model = Model(from_data(network))
    jobs = Counter([pattern_of(model, [Event(Key("code", "P0410"), ABNORMAL, place=0)])])
    found = learned(network, jobs).values
    assert not [path for path in found if path[0] == "tests"]
    assert all(abs(one.now - one.before) < 0.1 * one.before + 0.02 for one in found.values())


def test_known_values_stay(network: dict[str, Any]) -> None:
    jobs = _jobs(network, network, 60, 1)
    path = ("faults", "hose", "often")
    assert path not in learned(network, jobs, {path}).values
    assert path in learned(network, jobs).values


def _jobs(
    network: dict[str, Any], truth: dict[str, Any], count: int, seed: int
) -> Counter[Pattern]:
    bay = Bay("a-book", "air", "key", network, truth, seed)
    return Counter(pattern_of(bay.believed, bay.events()) for _ in range(count))


def test_intervals_cover_the_truth(network: dict[str, Any]) -> None:
    """A sample of what `make bench` does with 200 runs: nominal 90 %."""
    hits = []
    for seed in range(16):
        truth = true_values(network, WEIGHT, seed)
        jobs = _jobs(network, with_values(network, truth), 120, seed)
        for path, one in learned(network, jobs).values.items():
            hits.append(one.least <= truth[path] <= one.greatest)
    assert 0.84 <= sum(hits) / len(hits) <= 0.96


def test_ten_jobs_move_little_and_a_thousand_much(network: dict[str, Any]) -> None:
    truth = true_values(network, 8.0, 3)
    away = sum(abs(place.value - truth[place.path]) for place in places(network))
    moved, left = {}, {}
    for count in (10, 1000):
        jobs = _jobs(network, with_values(network, truth), count, 4)
        found = learned(network, jobs).values
        moved[count] = sum(abs(one.now - one.before) for one in found.values()) / away
        left[count] = sum(abs(one.now - truth[path]) for path, one in found.items()) / away
    assert moved[10] < 0.4
    assert moved[1000] > 2 * moved[10]
    assert left[1000] < 0.5 < left[10]


def test_equipment_shares_its_values(network: dict[str, Any]) -> None:
    """A car without one of the faults tells of the others as they are to each other."""
    without = with_values(network, {})
    without["faults"] = [fault for fault in without["faults"] if fault["id"] != "wire"]
    for test in without["tests"]:
        for seen in test["observations"]:
            for band in seen["bands"]:
                band["shows"].pop("wire", None)
    random = Random(0)
    jobs = [_jobs(net, net, 300, random.randrange(99)) for net in (network, without)]
    experience = [Experience(net, job) for net, job in zip((network, without), jobs, strict=True)]
    both = estimate(experience, lambda _: WEIGHT, lambda _: False)
    shares = [one.now for path, one in both.values.items() if path[-1] == "often"]
    assert both.jobs == 600
    assert shares == pytest.approx([10, 6, 4, 3], rel=0.3)


def test_a_part_of_the_bands_of_a_fault_never_exceeds_all(network: dict[str, Any]) -> None:
    truth = true_values(network, WEIGHT, 5)
    found = learned(network, _jobs(network, with_values(network, truth), 400, 5)).values
    for fault in ("hose", "valve", "pump"):
        at = ("tests", "measure", "observations", "volts", "bands")
        parts = [
            one.now
            for band, path in itertools.product(("none", "low"), found)
            if path == (*at, band, "shows", fault) and (one := found[path])
        ]
        assert 0.0 < sum(parts) < 1.0
