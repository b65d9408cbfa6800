"""The core: weights of fault sets and noisy-OR, against published networks and by brute force."""

from itertools import product
from math import prod

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baycalc.isolation.model.hypotheses import FaultSets, mask_of

CHANCES = st.floats(0.0, 1.0)
COUNT = 4

P_BURGLARY, P_EARTHQUAKE = 0.001, 0.002
ALARM = {(1, 1): 0.95, (1, 0): 0.94, (0, 1): 0.29, (0, 0): 0.001}

ROOTS = [0.01, 0.5, 0.01, 0.01, 0.3, 0.0]
LINKS = {
    0: {2: (0.05 - 0.01) / 0.99},
    1: {3: (0.10 - 0.01) / 0.99, 4: (0.60 - 0.30) / 0.70},
    2: {5: 1.0},
    3: {5: 1.0},
}
DYSPNOEA = {(1, 1): 0.9, (1, 0): 0.8, (0, 1): 0.7, (0, 0): 0.1}


def shares(sets: FaultSets, weights: list[float]) -> list[float]:
    whole = sum(weights)
    return [share / whole for share in sets.shares(weights)]


def times(*lists: list[float]) -> list[float]:
    return [prod(column) for column in zip(*lists, strict=True)]


def shown(normal: list[float]) -> list[float]:
    return [1.0 - chance for chance in normal]


class TestAlarm:
    """The alarm network: Russell and Norvig, Artificial Intelligence, a Modern Approach.

    Burglary 0, earthquake 1, alarm 2. The alarm's table is no noisy-OR, so it comes in as a
    weight for each set; the two calls are observations of our form.
    """

    @pytest.fixture
    def sets(self):
        return FaultSets(3, 3)

    @pytest.fixture
    def prior(self, sets):
        roots = sets.prior([P_BURGLARY, P_EARTHQUAKE, 0.5], {})
        table = []
        for mask in sets.masks:
            chance = ALARM[mask & 1, mask >> 1 & 1]
            table.append(2.0 * (chance if mask >> 2 & 1 else 1.0 - chance))
        return times(roots, table)

    @pytest.fixture
    def john(self, sets):
        return shown(sets.normal({2: 1.0 - (0.90 - 0.05) / 0.95}, 0.05))

    @pytest.fixture
    def mary(self, sets):
        return shown(sets.normal({2: 1.0 - (0.70 - 0.01) / 0.99}, 0.01))

    def given_burglary(self, sets, prior):
        return [weight if mask & 1 else 0.0 for mask, weight in zip(sets.masks, prior, strict=True)]

    def test_alarm_given_burglary(self, sets, prior):
        assert shares(sets, self.given_burglary(sets, prior))[2] == pytest.approx(0.94002, abs=1e-9)

    def test_john_given_burglary(self, sets, prior, john):
        burglary = self.given_burglary(sets, prior)
        assert sum(times(burglary, john)) / sum(burglary) == pytest.approx(0.849017, abs=1e-9)

    def test_mary_given_burglary(self, sets, prior, mary):
        burglary = self.given_burglary(sets, prior)
        assert sum(times(burglary, mary)) / sum(burglary) == pytest.approx(0.6586138, abs=1e-9)

    def test_burglary_given_both_calls(self, sets, prior, john, mary):
        """0.284 in the book; six digits computed from its tables."""
        both = shares(sets, times(prior, john, mary))
        assert both[0] == pytest.approx(0.284172, abs=5e-7)


class TestChestClinic:
    """The chest-clinic network: Lauritzen and Spiegelhalter, J. R. Statist. Soc. B 50 (1988).

    Asia 0, smoking 1, tuberculosis 2, lung cancer 3, bronchitis 4, either of 2 and 3 is 5. All
    links have our form, so the prior is ours with sets of every size; the table of dyspnoea is
    no noisy-OR and comes in as a likelihood for each set.
    """

    @pytest.fixture
    def sets(self):
        return FaultSets(6, 6)

    @pytest.fixture
    def prior(self, sets):
        return sets.prior(ROOTS, LINKS)

    def test_before_anything_is_known(self, sets, prior):
        """Marginals .0104, .055, .45 (the paper); either .064828 (computed from its tables)."""
        assert sum(prior) == pytest.approx(1.0, abs=1e-12)
        assert shares(sets, prior)[2:] == pytest.approx([0.0104, 0.055, 0.45, 0.064828], abs=1e-12)

    def test_given_asia_and_dyspnoea(self, sets, prior):
        """Tuberculosis .0877510, lung cancer .0995251, bronchitis .8114021 (check values)."""
        asia = [float(mask & 1) for mask in sets.masks]
        dyspnoea = [DYSPNOEA[mask >> 4 & 1, mask >> 5 & 1] for mask in sets.masks]
        found = shares(sets, times(prior, asia, dyspnoea))[2:5]
        assert found == pytest.approx([0.0877510, 0.0995251, 0.8114021], abs=5e-8)

    def test_x_ray_through_an_observation(self, sets, prior):
        """P(x-ray abnormal) = .98 x .064828 + .05 x .935172 = .11029004 (by hand)."""
        x_ray = shown(sets.normal({5: 1.0 - (0.98 - 0.05) / 0.95}, 0.05))
        assert sum(times(prior, x_ray)) == pytest.approx(0.11029004, abs=1e-9)


def reached(first: set[int], links: set[tuple[int, int]]) -> frozenset[int]:
    there = set(first)
    while more := {effect for cause, effect in links if cause in there} - there:
        there |= more
    return frozenset(there)


def by_brute_force(roots: list[float], links: dict[int, dict[int, float]]) -> dict[int, float]:
    """Chance of each set: every root and every link is drawn in every way."""
    edges = [(a, b, chance) for a, effects in links.items() for b, chance in effects.items()]
    totals: dict[int, float] = {}
    for there in product((0, 1), repeat=len(roots)):
        for acts in product((0, 1), repeat=len(edges)):
            chance = prod(p if hit else 1 - p for p, hit in zip(roots, there, strict=True))
            chance *= prod(e[2] if hit else 1 - e[2] for e, hit in zip(edges, acts, strict=True))
            first = {fault for fault, hit in enumerate(there) if hit}
            acting = {(e[0], e[1]) for e, hit in zip(edges, acts, strict=True) if hit}
            mask = mask_of(reached(first, acting))
            totals[mask] = totals.get(mask, 0.0) + chance
    return totals


PAIRS = st.sampled_from([(a, b) for a in range(COUNT) for b in range(COUNT) if a != b])


@given(
    st.lists(st.floats(0.0, 0.9), min_size=COUNT, max_size=COUNT),
    st.dictionaries(PAIRS, CHANCES, max_size=6),
)
def test_prior_is_what_roots_and_links_reach(roots, pairs):
    """Circles included: every way in which roots and links can turn out is added up."""
    links: dict[int, dict[int, float]] = {}
    for (cause, effect), chance in pairs.items():
        links.setdefault(cause, {})[effect] = chance
    sets = FaultSets(COUNT, COUNT)
    expected = by_brute_force(roots, links)
    for mask, weight in zip(sets.masks, sets.prior(roots, links), strict=True):
        assert weight == pytest.approx(expected.get(mask, 0.0), abs=1e-12)


@given(st.lists(CHANCES, min_size=COUNT, max_size=COUNT), CHANCES)
def test_normal_is_the_product_over_the_members(keep, leak):
    sets = FaultSets(COUNT, 3)
    for members, normal in zip(sets.members, sets.normal(dict(enumerate(keep)), leak), strict=True):
        assert normal == pytest.approx((1.0 - leak) * prod(keep[fault] for fault in members))


@pytest.mark.parametrize(("count", "number"), [(1, 2), (3, 8), (12, 299), (31, 4992)])
def test_number_of_sets(count, number):
    """1 + n + n(n-1)/2 + n(n-1)(n-2)/6."""
    sets = FaultSets(count, 3)
    assert len(sets.masks) == len(set(sets.masks)) == number
