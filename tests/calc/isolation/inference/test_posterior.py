"""Inference over fault sets, against pgmpy's Bayesian networks, and its properties."""

from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.calc.isolation.bayes import Bayes
from tests.calc.isolation.jobs import known as posterior_of
from tests.calc.isolation.jobs import suspects
from tests.calc.isolation.networks import Json, check, fault, network, pump_story, result

from baycalc.isolation.model.bayes_net import Model
from baycalc.isolation.model.read_network import from_data

NETWORKS = 200
BATCHES = 20
EXACT = 1e-9
CODES = ("P0410", "P0411", "P0412")


def chances(rng: Random, names: list[str], most: int) -> dict[str, float]:
    """Chances for some of the names; zeros and ones are among them."""
    some = rng.sample(names, rng.randint(0, min(most, len(names))))
    return {name: rng.choice([0.0, 1.0, rng.random(), rng.random(), rng.random()]) for name in some}


def random_network(rng: Random, count: int) -> Json:
    """A network of our form: faults with knock-ons later in the list, codes, tests."""
    names = [f"f{number}" for number in range(count)]
    faults = [
        fault(
            name,
            rng.uniform(0.2, 8.0),
            sets=chances(rng, list(CODES), 3),
            leads_to={
                other: {"chance": rng.uniform(0.05, 0.95), "later": rng.choice([0.0, 0.3])}
                for other in rng.sample(names[place + 1 :], min(2, count - place - 1))
                if rng.random() < 0.4
            },
        )
        for place, name in enumerate(names)
    ]
    tests = []
    for number in range(rng.randint(1, 6)):
        test = check(f"t{number}", 5, {})
        test["observations"] = [
            {
                "id": seen,
                "shows": chances(rng, names, 5),
                "false_alarm": rng.choice([0.0, 0.02, 0.3]),
            }
            for seen in ("seen", "heard")[: rng.randint(1, 2)]
        ]
        tests.append(test)
    return network(
        faults,
        tests,
        elsewhere=rng.choice([0, rng.uniform(0.1, 3.0)]),
        codes={code: {"false_alarm": rng.choice([0.001, 0.05])} for code in CODES},
        base=rng.choice([0.02, 0.1, 0.6]),
    )


def random_results(rng: Random, data: Json) -> list[Json]:
    """Codes and results in any order, some not done, some too close to call."""
    events: list[Json] = [
        {"code": code, "state": rng.choice(["stored", "absent"])}
        for code in CODES
        if rng.random() < 0.7
    ]
    for test in data["tests"]:
        for seen in test["observations"]:
            near = {"likelihood": [rng.random(), rng.random()]}
            said = rng.choice(["abnormal", "normal", "normal", "skipped", near])
            events.append({"test": test["id"], "observation": seen["id"], "result": said})
    rng.shuffle(events)
    return events


def random_history(rng: Random, data: Json, repairs: int) -> list[Json]:
    events = random_results(rng, data)
    for _ in range(repairs):
        events.append({"repair": rng.choice(data["faults"])["id"]})
        events += random_results(rng, data)[:3]
        if rng.random() < 0.6:
            events.append({"recheck": rng.choice(["cured", "not cured"])})
    return events


def compare(rng: Random, count: int, repairs: int) -> bool:
    """Hold one random network to pgmpy; False where the history is impossible."""
    data = random_network(rng, count)
    history = random_history(rng, data, repairs)
    bayes = Bayes(data)
    for event in history:
        bayes.learn(event)
    model = Model(from_data(data))
    known = posterior_of(model, history)
    if known.discarded:
        return False
    expected = bayes.weights_of_sets()
    for members, weight in zip(model.sets.members, known.belief.weights, strict=True):
        there = frozenset(model.ids[fault] for fault in members)
        assert weight == pytest.approx(expected.pop(there, 0.0), abs=EXACT)
    assert max(expected.values(), default=0.0) <= EXACT
    for name, met in suspects(model, history).repaired.items():
        assert met == pytest.approx(bayes.chance(bayes.met[name]), abs=EXACT)
    return True


@pytest.mark.parametrize("batch", range(BATCHES))
def test_equals_pgmpy(batch):
    """Networks of 2 to 12 faults, every weight of every set to 1e-9."""
    rng = Random(1000 + batch)
    held = 0
    while held < NETWORKS // BATCHES:
        held += compare(rng, rng.randint(2, 12), repairs=0)


@pytest.mark.parametrize("batch", range(10))
def test_equals_pgmpy_through_repairs(batch):
    """Networks of 2 to 6 faults with one or two repairs, later knock-ons and proofs."""
    rng = Random(5000 + batch)
    held = 0
    while held < 4:
        held += compare(rng, rng.randint(2, 6), repairs=rng.choice([1, 1, 2]))


SEEDS = st.integers(0, 10**6)


def case_of(seed: int, repairs: int = 0) -> tuple[Random, Model, list[Json]]:
    rng = Random(seed)
    data = random_network(rng, rng.randint(2, 7))
    return rng, Model(from_data(data)), random_history(rng, data, repairs)


def weights(model: Model, history: list[Json]) -> list[float]:
    return posterior_of(model, history).belief.weights


@settings(max_examples=60, deadline=None)
@given(SEEDS, st.integers(0, 2))
def test_shares_of_sets_sum_to_one(seed, repairs):
    _, model, history = case_of(seed, repairs)
    found = weights(model, history)
    assert sum(found) == pytest.approx(1.0, abs=1e-12)
    assert min(found) >= 0.0
    answer = suspects(model, history)
    assert all(0.0 <= share <= 1.0 + 1e-12 for share in answer.marginals.values())
    assert all(0.0 <= share <= 1.0 + 1e-12 for share in answer.repaired.values())
    assert sum(share for _, share in answer.sets) <= 1.0 + 1e-12


@settings(max_examples=60, deadline=None)
@given(SEEDS)
def test_order_within_one_state_does_not_matter(seed):
    rng, model, history = case_of(seed)
    if posterior_of(model, history).discarded:
        return
    other = list(history)
    rng.shuffle(other)
    assert weights(model, other) == pytest.approx(weights(model, history), abs=1e-12)


@settings(max_examples=40, deadline=None)
@given(SEEDS)
def test_the_same_result_again_adds_nothing(seed):
    _, model, history = case_of(seed)
    assert weights(model, history + history) == pytest.approx(weights(model, history), abs=1e-12)


@settings(max_examples=40, deadline=None)
@given(SEEDS)
def test_not_done_adds_nothing(seed):
    _, model, history = case_of(seed)
    blank = [
        {"test": test.id, "observation": seen.id, "result": "skipped"}
        for test in model.network.tests
        for seen in test.observations
    ]
    assert weights(model, history + blank) == weights(model, history)


@pytest.mark.parametrize(
    ("said", "likelihood"), [("abnormal", [1, 0]), ("normal", [0, 1]), ("skipped", [0.4, 0.4])]
)
def test_a_likelihood_holds_the_plain_results(pump, said, likelihood):
    """Sure readings are the plain results; one that says nothing is as good as not done."""
    code = {"code": "P0410", "state": "stored"}
    plain = suspects(pump, [code, result("relay-swap", said)])
    soft = suspects(pump, [code, result("relay-swap", {"likelihood": likelihood})])
    assert soft.marginals == pytest.approx(plain.marginals, abs=1e-12)


def test_too_close_to_call_lies_between(pump):
    code = {"code": "P0410", "state": "stored"}
    shares = [
        suspects(pump, [code, result("relay-swap", said)]).marginals["relay"]
        for said in ("normal", {"likelihood": [0.45, 0.55]}, "abnormal")
    ]
    assert shares == sorted(shares)


def test_a_newer_result_replaces_the_older_one(pump):
    first, then = result("relay-swap", True), result("relay-swap", False)
    assert suspects(pump, [first, then]) == suspects(pump, [then])


def test_one_sure_cause():
    """Two faults equally often, a test that shows one of them without error."""
    data = network(
        [fault("a"), fault("b")], [check("t", 5, {"a": 1.0}, false_alarm=0.0)], base=1e-9
    )
    model = Model(from_data(data))
    assert suspects(model, [result("t", True)]).marginals["a"] == 1.0
    assert suspects(model, [result("t", False)]).marginals["a"] == 0.0
    assert suspects(model, []).marginals["a"] == pytest.approx(0.5, abs=1e-8)


def test_single_fault_by_hand():
    """Bayes by hand: weights 3 and 1, shown with .8 and .1: 2.4 / (2.4 + .1)."""
    tests = [check("t", 5, {"a": 0.8, "b": 0.1}, false_alarm=0.0)]
    model = Model(from_data(network([fault("a", 3), fault("b", 1)], tests, base=1e-9)))
    assert suspects(model, [result("t", True)]).marginals["a"] == pytest.approx(0.96, abs=1e-8)


def test_a_code_says_nothing_about_outside():
    """Every fault sets the code with the same chance, so it moves no share."""
    faults = [fault("a", 2, sets={"P0410": 0.7}), fault("b", sets={"P0410": 0.7})]
    data = network(faults, [], elsewhere=0.5, codes={"P0410": {"false_alarm": 0.0}}, base=1e-9)
    model = Model(from_data(data))
    known = suspects(model, [{"code": "P0410", "state": "stored"}])
    assert known.outside == pytest.approx(0.5 / 3.5, abs=1e-8)
    assert known.marginals["outside"] == known.outside


def test_sets_that_matter_name_pump_and_relay(pump):
    events = [{"code": "P0410", "state": "stored"}, result("pump-feed"), result("relay-swap")]
    (faults, share), *_ = suspects(pump, events).sets
    assert faults == ("pump", "relay")
    assert share > 0.4


def test_outside_keeps_its_share(pump):
    """All tests normal; by hand .346 / (.346 + 2 x 4 x .9 x .05 + 2 x .9 x .02)."""
    events = [{"code": "P0410", "state": "stored"}]
    events += [
        result(name, False) for name in ("fuse-look", "relay-swap", "pump-feed", "valve-hold")
    ]
    assert suspects(pump, events).outside == pytest.approx(0.466, abs=0.03)


class TestLaterKnockOn:
    """The car that got a new pump, and whose relay then died."""

    BEFORE = (
        {"code": "P0410", "state": "stored"},
        result("relay-swap", False),
        result("pump-feed"),
    )

    def test_the_repair_met_its_fault(self, pump):
        known = suspects(pump, [*self.BEFORE, {"repair": "pump"}])
        assert known.marginals["pump"] == 0.0
        assert known.repaired["pump"] > 0.95

    def test_the_relay_is_suspect_again(self, pump):
        """It comes with chance .3 after the repair, so its share is about that."""
        before = suspects(pump, [*self.BEFORE])
        after = suspects(pump, [*self.BEFORE, {"repair": "pump"}])
        assert before.marginals["relay"] < 0.05
        assert after.marginals["relay"] == pytest.approx(0.3, abs=0.05)

    def test_not_cured_points_to_the_relay(self, pump):
        events = [*self.BEFORE, {"repair": "pump"}, {"recheck": "not cured"}]
        shares = suspects(pump, events).marginals
        assert max(shares, key=shares.__getitem__) == "relay"

    def test_cured_all_but_clears_it(self, pump):
        """The proof shows a dead relay in nine cars of ten: .3 x .1 / (.7 + .3 x .1) is left.

        The valve, which sets its code in four cars of ten only, stays suspect.
        """
        shares = suspects(pump, [*self.BEFORE, {"repair": "pump"}, {"recheck": "cured"}]).marginals
        assert shares["relay"] == pytest.approx(0.041, abs=0.01)
        assert shares["valve"] > 0.1

    def test_a_repair_in_vain_brings_no_knock_on(self, pump):
        """The pump was good: its repair cannot have burnt the relay, and changes nothing."""
        good = [{"code": "P0410", "state": "stored"}, result("pump-feed", False)]
        events = [*good, {"repair": "pump"}, {"recheck": "not cured"}]
        known = suspects(pump, events)
        assert known.repaired["pump"] < 0.05
        assert known.marginals["relay"] == pytest.approx(
            suspects(pump, good).marginals["relay"], abs=0.1
        )


def test_story_is_the_same_network_each_time():
    assert from_data(pump_story()) == from_data(pump_story())
