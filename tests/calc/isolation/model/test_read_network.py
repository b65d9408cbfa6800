"""Reading a network: every figure arrives, and one clear line for every mistake."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.calc.isolation.networks import Json, check, fault, network, pump_story

from baycalc.isolation.model.fault_model import (
    OUTSIDE_SHARE,
    Band,
    Complaint,
    Link,
    Opening,
    Outside,
    Setup,
)
from baycalc.isolation.model.read_network import from_data


def errors(data: object) -> list[str]:
    with pytest.raises(ValueError, match="expected") as caught:
        from_data(data)  # type: ignore[arg-type]
    return str(caught.value).splitlines()


@given(st.floats(0.01, 100), st.floats(0, 1), st.floats(0, 500))
def test_numbers_arrive(often, chance, minutes):
    data = network(
        [
            fault("a", often, minutes, leads_to={"b": {"chance": chance, "later": chance}}),
            fault("b"),
        ],
        [check("t", minutes, {"a": chance}, after=["u"]), check("u", 1, {})],
    )
    read = from_data(data)
    assert read.faults[0].often == often
    assert read.faults[0].repair.minutes == minutes
    assert read.faults[0].leads_to["b"] == Link(chance, chance)
    assert read.tests[0].observations[0].bands[0].shows == {"a": chance}


def test_a_cause_outside_gets_a_small_share():
    data = network([fault("a", 3), fault("b", 1)], [])
    del data["outside"]
    assert from_data(data).outside == Outside(OUTSIDE_SHARE)


def test_a_cause_outside_with_its_look():
    outside = {"share": 0.2, "with": {"P0410": 0.8}, "minutes": 45, "price": 10, "found": 0.9}
    data = network([fault("a")], [], codes={"P0410": {}}, outside=outside)
    assert from_data(data).outside == Outside(0.2, {"P0410": 0.8}, 45, 10, 0.9)


def test_everything_of_the_richer_model_arrives():
    bands = [
        {"id": "ground", "says": "touches ground", "shows": {"a": 0.5}, "stops": ["up"]},
        {"id": "open", "shows": {"a": 0.4}, "false_alarm": 0.1},
    ]
    seen = {"id": "volts", "says": "Volts", "normal": "12 V", "restates": True, "bands": bands}
    test = {"id": "t", "title": "T", "short": "Pin", "minutes": 2, "price": 3, "opening": True}
    data = network(
        [
            fault(
                "a",
                short="A bad",
                present=0.5,
                complaints={"noise": 0.8},
                repair={"minutes": 5, "price": 9, "cures": ["b"]},
            ),
            fault("b"),
        ],
        [test | {"observations": [seen]}],
        codes={"P0410": {}, "P0411": {"suppresses": ["P0410"]}},
        complaints={"noise": {"says": "it whistles", "false_alarm": 0.1}},
        setups={"up": {"minutes": 5, "wait": 60, "state": "raised", "burden": 2, "says": "Up."}},
        opening=[{"id": "battery", "title": "Battery", "minutes": 4}],
    )
    read = from_data(data)
    first = read.faults[0]
    assert (first.short, first.present, first.repair.cures) == ("A bad", 0.5, ("b",))
    assert read.codes["P0411"].suppresses == ("P0410",)
    assert read.complaints["noise"] == Complaint("it whistles", 0.1)
    assert read.setups["up"] == Setup(5, 60, "raised", 2, "Up.")
    assert read.opening == (Opening("battery", "Battery", 4),)
    (item,) = read.tests[0].observations
    assert (item.normal, item.restates, read.tests[0].opening) == ("12 V", True, True)
    assert item.bands == (
        Band("ground", "touches ground", {"a": 0.5}, 0.0, ("up",)),
        Band("open", "", {"a": 0.4}, 0.1),
    )
    assert item.shows("a") == 0.9


def test_story_reads():
    read = from_data(pump_story())
    assert [item.id for item in read.faults] == ["valve", "pump", "relay", "fuse"]
    assert read.faults[1].leads_to["relay"].later == 0.3
    assert read.setups == {"raised": Setup(5.0)}


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
                "faults[0]: expected one of the fields complaints, id, leads_to, often, part, "
                "present, recheck, repair, says, sets, short, got 'colour'",
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
            network([fault("outside")], []),
            ["fault outside: expected another id, got the one that means none of these"],
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
                "codes.P0410: expected one of the fields false_alarm, suppresses, got 'alarm'",
                "rate: expected a number of at least 0, got 'high'",
                "base: expected a number below 1, got 1",
            ],
        ),
        (
            network(
                [fault("a", repair={"minutes": 1, "cures": ["b"]}, present=0, complaints={"x": 1})],
                [],
                codes={"P0410": {"suppresses": ["P0411"]}},
                outside={"share": 1, "with": {"P0412": 0.5}},
            ),
            [
                "fault a: repair: cures: expected the id of another fault, got 'b'",
                "fault a: complaints: expected a complaint of the network, got 'x'",
                "fault a: present: expected a chance above 0, got 0",
                "code P0410: suppresses: expected a code of the network, got 'P0411'",
                "outside: with: expected a code of the network, got 'P0412'",
                "outside: expected shares below 1, got 1",
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
