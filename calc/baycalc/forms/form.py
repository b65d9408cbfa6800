"""How a calculator declares its form: one line a field, and the same line is its argument.

A field says once all that there is to say of an input: label, kind with its units, default, range,
help, and when it is asked for. Fields that belong together are a form of their own inside it.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import partial, wraps
from typing import Any, dataclass_transform

from baycalc.forms.declare import (
    Answer,
    Choice,
    Flag,
    HandOver,
    Input,
    Option,
    Quantity,
    RecordInput,
    Result,
    Shown,
    Source,
    Text,
)
from baycalc.forms.groups import USUAL_GROUP
from baycalc.measurement.decision import FAIL, PASS
from baycalc.quantities.kinds import Kind


@dataclass(frozen=True, slots=True)
class Asked:
    """A field as it is declared: the input that it becomes once it has its name."""

    make: Callable[..., Input]

    def says(self, help: str, only: str = "") -> "Asked":
        """Add the help, and the choice that shows the field, such as ``find=flow|hole``."""
        choice, _, values = only.partition("=")
        shown = Shown(choice=choice, values=tuple(values.split("|"))) if only else None
        return Asked(partial(self.make, help=help, shown=shown))

    def inputs(self, name: str) -> tuple[Input, ...]:
        """Return the input of this field."""
        return (self.make(id=name),)

    def read(self, name: str, values: Mapping[str, Any]) -> Any:
        """Return the field's value out of those of all inputs."""
        return values[name]


@dataclass(frozen=True, slots=True)
class Group:
    """Fields that make one value together.

    ``named`` is how their inputs are called; ``group`` their group on the form, if not the usual.
    """

    makes: Callable[..., object]
    asked: Mapping[str, "Asked | Group"]
    named: str = "{}"
    group: str = ""

    def inputs(self, _: str = "") -> tuple[Input, ...]:
        """Return the inputs of all fields, in their order."""
        return tuple(
            replace(declared, group=self.group) if self.group else declared
            for part, asked in self.asked.items()
            for declared in asked.inputs(self.named.format(part))
        )

    def read(self, _: str, values: Mapping[str, Any]) -> Any:
        """Make the value of the group out of those of all inputs."""
        return self.makes(
            **{
                part: asked.read(self.named.format(part), values)
                for part, asked in self.asked.items()
            }
        )


_FORMS: dict[type, Group] = {}


@dataclass_transform(frozen_default=True, kw_only_default=True)
def form[C](cls: type[C]) -> type[C]:
    """Make a class of declared fields the argument of a calculation."""
    asked = {name: field for name, field in vars(cls).items() if isinstance(field, Asked | Group)}
    for name in asked:
        delattr(cls, name)
    made = dataclass(frozen=True, slots=True, kw_only=True)(cls)
    _FORMS[made] = Group(made, asked)
    return made


def part(cls: type) -> Any:
    """Declare a form inside a form: its inputs stand there under their own names."""
    return _FORMS[cls]


def quantity(
    label: str, kind: Kind, default: str | None, span: str, *, optional: bool = False
) -> Any:
    """Declare a quantity; ``span`` is its range, such as ``0 Pa to 110 kPa``."""
    low, _, high = span.partition(" to ")
    return Asked(
        partial(
            Quantity,
            label=label,
            kind=kind.name,
            units=kind.units,
            default=default,
            low=low,
            high=high,
            optional=optional,
        )
    )


def choice(label: str, options: Mapping[str, str], default: str = "") -> Any:
    """Declare a choice by value and label; the first option is the default if none is given."""
    offered = tuple(Option(value=value, label=text) for value, text in options.items())
    chosen = default or offered[0].value
    return Asked(partial(Choice, label=label, options=offered, default=chosen))


def flag(label: str, default: bool = False) -> Any:
    """Declare a yes or no."""
    return Asked(partial(Flag, label=label, default=default))


def typed_text(label: str, default: str, longest: int) -> Any:
    """Declare a text with a meaning of its own."""
    return Asked(partial(Text, label=label, default=default, longest=longest))


def record(label: str, default: str) -> Any:
    """Declare a record: a curve from a file of columns, or from typed pairs."""
    return Asked(partial(RecordInput, label=label, default=default))


def result(name: str, label: str, kind: Kind, digits: int = 4, table: str = "") -> Result:
    """Declare a result that is a quantity."""
    return Result(
        id=name, label=label, kind=kind.name, units=kind.units, digits=digits, table=table
    )


def verdict(name: str, label: str, kind: Kind, digits: int = 3, aside: bool = False) -> Result:
    """Declare a verdict, written in the units of a kind; ``aside``: it is no conclusion."""
    units = kind.units
    return Result(id=name, label=label, kind="verdict", units=units, digits=digits, aside=aside)


def text(name: str, label: str) -> Result:
    """Declare a result in words."""
    return Result(id=name, label=label, kind="text")


YES_IS_GOOD = {"yes": PASS, "no": FAIL}
"""Outcomes of a yes or no that should be yes."""


def yes_or_no(name: str, label: str) -> Result:
    """Declare a result that is yes or no."""
    return Result(id=name, label=label, kind="flag")


def hand_over(to: str, label: str, carries: str, **sets: str) -> tuple[HandOver, ...]:
    """Declare a link that carries figures, such as ``load conductor=feed_conductor``.

    Left of the sign stands the other calculator's input, right of it ours; one name stands for
    both.
    """
    pairs = [each.partition("=") for each in carries.split()]
    carried = {theirs: ours or theirs for theirs, _, ours in pairs}
    return (HandOver(to=to, label=label, carries=carried, sets=sets),)


def published(*texts: str) -> tuple[Source, ...]:
    """Declare sources that were seen."""
    return tuple(Source(text=each) for each in texts)


def from_memory(*texts: str) -> tuple[Source, ...]:
    """Declare sources that were not seen when this was written."""
    return tuple(Source(text=each, standing="memory") for each in texts)


def practice(*texts: str) -> tuple[Source, ...]:
    """Declare what is common practice, without a source."""
    return tuple(Source(text=each, standing="practice") for each in texts)


def phrases(text: str) -> tuple[str, ...]:
    """Return the phrases of a list that commas part."""
    return tuple(text.split(", "))


def taking[F](asks: type[F], compute: Callable[[F], Answer], **groups: str) -> dict[str, Any]:
    """Return what a `Calculator` has from its form and calculation: id, inputs, compute.

    ``groups`` names the inputs that are not in their usual group: ``question="reference"``.
    """
    whole = _FORMS[asks]
    own = {name: group for group, names in groups.items() for name in names.split()}
    group_of = USUAL_GROUP | own

    @wraps(compute)
    def called(**values: Any) -> Answer:
        return compute(whole.read("", values))

    inputs = tuple(
        replace(each, group=group_of.get(each.id, each.group)) for each in whole.inputs()
    )
    return {"id": compute.__name__, "inputs": inputs, "compute": called}
