"""Reading a network: the same back again, and one clear line for every mistake."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.calc.isolation.networks import Json, check, fault, network, pump_story

from baycalc.isolation.model.fault_model import ELSEWHERE_SHARE, from_data


def errors(data: object) -> list[str]:
    with pytest.raises(ValueError, match="expected") as caught:
        from_data(data)  # type: ignore[arg-type]
    return str(caught.value).splitlines()


def test_back_to_the_same_data(pump_data):
    read = from_data(pump_data)
    assert from_data(read.to_data()) == read


@given(st.floats(0.01, 100), st.floats(0, 1), st.floats(0, 500))
def test_numbers_come_back(often, chance, minutes):
    data = network(
        [
            fault("a", often, minutes, leads_to={"b": {"chance": chance, "later": chance}}),
            fault("b"),
        ],
        [check("t", minutes, {"a": chance}, after=["u"]), check("u", 1, {})],
    )
    read = from_data(data)
    assert from_data(read.to_data()) == read
    assert read.faults[0].often == often
    assert read.tests[0].observations[0].shows == {"a": chance}


def test_none_of_these_gets_a_small_share():
    data = network([fault("a", 3), fault("b", 1)], [])
    del data["elsewhere"]
    assert from_data(data).elsewhere.often == ELSEWHERE_SHARE * 4


def test_none_of_these_with_its_cost():
    data = network([fault("a")], [], elsewhere={"often": 2, "minutes": 45, "price": 10})
    read = from_data(data).elsewhere
    assert (read.often, read.minutes, read.price) == (2, 45, 10)


def test_story_reads():
    read = from_data(pump_story())
    assert [item.id for item in read.faults] == ["valve", "pump", "relay", "fuse"]
    assert read.faults[1].leads_to["relay"].later == 0.3
    assert read.setups == {"raised": 5.0}


BAD_FAULT = fault("a") | {"often": 0, "sets": {"P0410": 1.5}, "colour": "red"}


@pytest.mark.parametrize(
    ("data", "lines"),
    [
        (
            [],
            [
                "network: expected an object, got []",
                "faults: expected at least one fault, got none",
            ],
        ),
        (network([], []), ["faults: expected at least one fault, got none"]),
        (
            network([BAD_FAULT], [], codes={"P0410": {}}),
            [
                "faults[0].often: expected a number above 0, got 0",
                "faults[0].sets.P0410: expected a chance between 0 and 1, got 1.5",
                "faults[0]: expected one of the fields id, leads_to, often, part, recheck, repair, "
                "says, sets, got 'colour'",
            ],
        ),
        (
            network([fault("a") | {"id": ""}], []),
            ["faults[0].id: expected a text, got ''"],
        ),
        (
            network([fault("a"), fault("a")], []),
            ["faults: expected each id once, got 'a' twice"],
        ),
        (
            network([fault("elsewhere")], []),
            ["fault elsewhere: expected another id, got the one that means none of these"],
        ),
        (
            network([fault("a", sets={"P0999": 0.5})], []),
            ["fault a: sets: expected a code of the network, got 'P0999'"],
        ),
        (
            network([fault("a", leads_to={"a": {"chance": 0.5}})], []),
            ["fault a: leads_to: expected the id of another fault, got 'a'"],
        ),
        (
            network([fault("a", leads_to={"b": {"chance": "often"}}), fault("b")], []),
            ["faults[0].leads_to.b.chance: expected a chance between 0 and 1, got 'often'"],
        ),
        (
            network([fault("a", minutes=-1)], []),
            ["faults[0].repair.minutes: expected a number of at least 0, got -1"],
        ),
        (
            network([fault("a")], [check("t", 5, {"b": 0.5}, setup="hot", after=["u"])]),
            [
                "test t: after: expected the id of another test, got 'u'",
                "test t: setup: expected a set-up, got 'hot'",
                "test t: observation seen: shows: expected the id of a fault, got 'b'",
            ],
        ),
        (
            network([fault("a")], [check("t", 5, {}, after=["u"]), check("u", 5, {}, after=["t"])]),
            ["tests: expected an order, got tests that wait for each other: t, u"],
        ),
        (
            network([fault("a")], [check("t", float("nan"), {})]),
            ["tests[0].minutes: expected a number of at least 0, got nan"],
        ),
        (
            network([fault("a")], [{"id": "t", "title": "T", "minutes": True, "observations": 3}]),
            [
                "tests[0].minutes: expected a number of at least 0, got True",
                "tests[0].observations: expected a list, got 3",
            ],
        ),
        (
            network([fault("a")], [], codes={"P0410": {"alarm": 0.1}}, base=1.0, rate="high"),
            [
                "codes.P0410: expected one of the fields false_alarm, got 'alarm'",
                "rate: expected a number of at least 0, got 'high'",
                "base: expected a number below 1, got 1",
            ],
        ),
        (
            network([fault("a")], [check("t", 1, {}, after="u")]),
            ["tests[0].after: expected a list of texts, got 'u'"],
        ),
    ],
)
def test_mistakes(data: Json, lines):
    assert errors(data) == lines


def test_knock_ons_that_leave_no_car_with_three_faults():
    from baycalc.isolation.model.bayes_net import Model

    chain = [
        fault(f"f{number}", leads_to={f"f{(number + 1) % 4}": {"chance": 1.0}})
        for number in range(4)
    ]
    with pytest.raises(ValueError, match="expected a car with 3 faults or fewer to be possible"):
        Model(from_data(network(chain, [])))
