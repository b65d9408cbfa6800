"""A procedure for each car that it serves: something is left to find, and by some test."""

from baybook.book.car import CarProcedure
from baybook.book.context import Context
from baybook.book.equipment import by_equipment
from baybook.book.sources.load import VehicleSource
from baycalc.isolation.model.fault_model import OUTSIDE


def check_cars(context: Context) -> None:
    """Check that faults and tests are left on every car."""
    data, report = context.data, context.report
    if OUTSIDE in data.faults:
        report.error(
            ("faults", OUTSIDE),
            f"expected another name, got {OUTSIDE}",
            "it stands for a cause outside the procedure",
        )
    for name, group in (("parts", data.parts), ("faults", data.faults), ("tests", data.tests)):
        if not group:
            report.error((name,), f"expected at least one of {name}, got none")
    for cars in by_equipment(context.cars):
        bound = CarProcedure(context.source, cars[0])
        for car in cars:
            _check_car(context, car, bound)


def _check_car(context: Context, car: VehicleSource, bound: CarProcedure) -> None:
    """Check what is left on a car; the procedure may be bound to one of the same equipment."""
    for name, group, left in (
        ("faults", context.data.faults, bound.faults),
        ("tests", context.data.tests, bound.tests),
    ):
        if group and not left:
            context.report.error(
                (name,),
                f"expected {name} that {car.lines.file} can have, got none",
                "compare their `when` with `has` of the vehicle",
            )
    for name, test in bound.tests.items():
        for seen, observation in test.observations.items():
            shown = [fault for fault in observation.shown() if fault in context.data.faults]
            if shown and not any(fault in bound.faults for fault in shown):
                context.report.warning(
                    ("tests", name, "observations", seen, "shows"),
                    f"expected a fault that {car.lines.file} can have, got only others",
                    "give the test the same `when` as its faults",
                )
