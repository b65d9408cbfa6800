"""A calculator inside a test: it exists, and its fields fit its inputs."""

from msgspec import UnsetType

from baybook.book.car import is_figure
from baybook.book.checks.check_quantities import check_value, value_in
from baybook.book.context import Context
from baybook.book.pint_quantities import unit_table
from baybook.book.sources.load import VehicleSource
from baybook.book.sources.problem_report import name_hint
from baybook.book.sources.read import Path
from baycalc.forms.declare import Calculator, Choice, Input, Quantity, Text

_FLAGS = ("yes", "no")


def check_calculators(context: Context) -> None:
    """Check the calculators that tests embed."""
    for name, test in context.data.tests.items():
        embed = test.calculator
        if isinstance(embed, UnsetType):
            continue
        path: Path = ("tests", name, "calculator")
        if context.report.knows((*path, "use"), embed.use, context.calculators, "a calculator"):
            calculator = context.calculators[embed.use]
            cars = context.cars_with(test.when)
            for field, text in embed.fields.items():
                _check_field(context, (*path, "fields", field), calculator, text, cars)


def _check_field(
    context: Context, path: Path, calculator: Calculator, text: str, cars: tuple[VehicleSource, ...]
) -> None:
    name = str(path[-1])
    inputs = {entry.id: entry for entry in calculator.inputs}
    if not context.report.knows(path, name, inputs, f"an input of {calculator.id}"):
        return
    entry = inputs[name]
    if isinstance(entry, Quantity):
        check_value(context, path, entry.kind, text, cars)
        for car in cars or (None,):
            _check_range(context, path, entry, text, car)
    else:
        _check_word(context, path, entry, text)


def _check_word(context: Context, path: Path, entry: Input, text: str) -> None:
    if isinstance(entry, Text):
        if len(text) > entry.longest:
            context.report.error(
                path, f"expected at most {entry.longest} characters, got {len(text)}"
            )
        return
    known = [option.value for option in entry.options] if isinstance(entry, Choice) else _FLAGS
    if text not in known:
        context.report.error(
            path, f"expected one of {', '.join(known)}; got {text}", name_hint(text, known)
        )


def _check_range(
    context: Context, path: Path, entry: Quantity, text: str, car: VehicleSource | None
) -> None:
    value = value_in(entry.kind, text, car)
    if value is None:
        return
    low, high = (
        None if bound is None else unit_table().parse(entry.kind, bound)
        for bound in (entry.low, entry.high)
    )
    if (low is not None and value < low) or (high is not None and value > high):
        which = f"{text} of {car.lines.file}" if car and is_figure(text) else text
        context.report.error(path, f"expected {_range(entry)}, got {which}")


def _range(entry: Quantity) -> str:
    if entry.low is None:
        return f"at most {entry.high}"
    if entry.high is None:
        return f"at least {entry.low}"
    return f"{entry.low} to {entry.high}"
