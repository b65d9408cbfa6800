"""A procedure for one car as the plain data that `baycalc.isolation` works on."""

from typing import Any

from msgspec import UnsetType

from baybook.book.car import CarProcedure
from baybook.book.source_model import Fault, Test

CODE_FALSE_ALARM = 0.001
"""Chance that a code is stored with none of the faults present; common practice, no source [-]."""


def network(car: CarProcedure, labour_per_hour: float, currency: str = "") -> dict[str, Any]:
    """Return faults, codes, set-ups and tests of a procedure for one car, as plain data.

    Parameters
    ----------
    car : CarProcedure
        The procedure bound to a vehicle.
    labour_per_hour : float
        What an hour of work costs, in the book's currency [1/h]
    currency : str
        Its sign.
    """
    data = car.source.data
    return {
        "faults": [_fault(car, name, fault) for name, fault in car.faults.items()],
        "codes": {code: {"false_alarm": CODE_FALSE_ALARM} for code in car.codes},
        "setups": {name: {"minutes": setup.minutes} for name, setup in data.setups.items()},
        "tests": [_test(car, name, test) for name, test in car.tests.items()],
        "rate": labour_per_hour / 60,
        "currency": currency or None,
        "recheck_minutes": data.recheck,
    }


def _fault(car: CarProcedure, name: str, fault: Fault) -> dict[str, Any]:
    return {
        "id": name,
        "says": car.fault_name(name),
        "part": fault.part,
        "often": fault.often,
        "sets": {code: chance for code, chance in fault.sets.items() if code in car.codes},
        "leads_to": {
            other: {"chance": knock.chance, "later": knock.later}
            for other, knock in fault.leads_to.items()
            if other in car.faults
        },
        "repair": {"minutes": fault.repair.minutes, "price": fault.repair.price},
    }


def _test(car: CarProcedure, name: str, test: Test) -> dict[str, Any]:
    return {
        "id": name,
        "title": test.title,
        "minutes": test.minutes,
        "setup": None if isinstance(test.setup, UnsetType) else test.setup,
        "after": [other for other in test.after if other in car.tests],
        "observations": [
            {
                "id": seen,
                "says": observation.asks or observation.reading,
                "shows": {
                    fault: chance
                    for fault, chance in observation.shows.items()
                    if fault in car.faults
                },
                "false_alarm": observation.false_alarm,
            }
            for seen, observation in test.observations.items()
        ],
    }
