"""One line a field: the declared data, and the value that a calculation takes."""

from typing import Any

from baycalc.forms.declare import Answer, Choice, Flag, Option, Quantity, Shown, Source, Text
from baycalc.forms.form import (
    Group,
    choice,
    flag,
    form,
    from_memory,
    hand_over,
    part,
    phrases,
    practice,
    published,
    quantity,
    result,
    taking,
    text,
    typed_text,
    verdict,
    yes_or_no,
)
from baycalc.quantities.kinds import CURRENT, VOLTS


@form
class Inner:
    """Two fields that belong together."""

    low: float = quantity("Low", VOLTS, "1 V", "0 V to 9 V")
    high: float | None = quantity("High", VOLTS, None, "0 V to 9 V", optional=True)

    def width(self) -> float:
        """Return the distance [V]."""
        return (self.high or 0.0) - self.low


@form
class Outer:
    """Every kind of field."""

    way: str = choice("Way", {"a": "first", "b": "second"}, "b").says("Which.")
    load: float = quantity("Load", CURRENT, "2 A", "0 A to 50 A").says("Typed.", "way=a|b")
    inner: Inner = part(Inner)
    sure: bool = flag("Sure", True)
    raw: str = typed_text("Raw", "00", 8)


def orange(asked: Outer) -> Answer:
    """Add up."""
    return Answer(values={"sum": asked.load + asked.inner.width()})


def test_fields_are_inputs_in_their_order() -> None:
    inputs: Any = taking(Outer, orange)["inputs"]
    assert inputs == (
        Choice(
            id="way",
            label="Way",
            options=(Option(value="a", label="first"), Option(value="b", label="second")),
            default="b",
            help="Which.",
        ),
        Quantity(
            id="load",
            label="Load",
            kind="current",
            units=("A", "mA"),
            default="2 A",
            low="0 A",
            high="50 A",
            help="Typed.",
            shown=Shown(choice="way", values=("a", "b")),
        ),
        Quantity(
            id="low", label="Low", kind="voltage", units=("V",), default="1 V", low="0 V",
            high="9 V",
        ),
        Quantity(
            id="high", label="High", kind="voltage", units=("V",), default=None, low="0 V",
            high="9 V", optional=True,
        ),
        Flag(id="sure", label="Sure", default=True),
        Text(id="raw", label="Raw", default="00", longest=8),
    )  # fmt: skip


def test_the_calculation_gets_its_form() -> None:
    told = taking(Outer, orange)
    assert told["id"] == "orange"
    values = {"way": "a", "load": 3.0, "low": 1.0, "high": 6.0, "sure": False, "raw": "01"}
    assert told["compute"](**values).values == {"sum": 8.0}


def test_a_group_names_its_inputs() -> None:
    group = Group(dict, {"x": flag("X"), "y": flag("Y")}, "mark_{}")
    assert [each.id for each in group.inputs("any")] == ["mark_x", "mark_y"]
    assert group.read("any", {"mark_x": True, "mark_y": False}) == {"x": True, "y": False}


def test_results() -> None:
    drop = result("drop", "Drop", CURRENT, 3).says("As read.")
    assert (drop.id, drop.kind, drop.units, drop.digits, drop.help) == (
        "drop", "current", ("A", "mA"), 3, "As read.",
    )  # fmt: skip
    assert verdict("v", "V", VOLTS).kind == "verdict"
    assert text("t", "T").kind == "text"
    assert yes_or_no("f", "F").kind == "flag"


def test_a_link() -> None:
    (hand,) = hand_over("fuse", "Fuse", "load conductor=feed_conductor", shape="ramp")
    assert hand.carries == {"load": "load", "conductor": "feed_conductor"}
    assert hand.sets == {"shape": "ramp"}


def test_sources_and_phrases() -> None:
    assert published("A") + from_memory("B") + practice("C") == (
        Source(text="A"),
        Source(text="B", standing="memory"),
        Source(text="C", standing="practice"),
    )
    assert phrases("one thing, another") == ("one thing", "another")
