"""A procedure for one car as the plain data that `baycalc.isolation` works on."""

from typing import Any

from msgspec import UnsetType

from baybook.book.car import CarProcedure
from baybook.book.pint_quantities import unit_table
from baybook.book.source_model import Fault, Observation, Setup, Test

CODE_FALSE_ALARM = 0.001
"""Chance that a code is stored with none of the faults present; common practice, no source [-]."""

COMPLAINT_FALSE_ALARM = 0.05
"""Chance of a complaint with none of its faults present; common practice, no source [-]."""

FITTING = "fit-"
"""With this begins the id of a section that fits a new part."""

HAZARD_MINUTES = {"fuel-vapor": 5.0, "pressure": 3.0, "road-test": 3.0, "raised-car": 2.0}
"""What a hazard weighs against minutes of work, each time it is gone into [min]; common practice,
no source."""


def network(car: CarProcedure, labour_per_hour: float, currency: str = "") -> dict[str, Any]:
    """Return faults, codes, complaints, set-ups and tests of a procedure for one car.

    Parameters
    ----------
    car : CarProcedure
        The procedure bound to a vehicle.
    labour_per_hour : float
        What an hour of work costs, in the book's currency [1/h]
    currency : str
        Its sign.

    Returns
    -------
    dict
        What `baycalc.isolation.model.fault_model.from_data` reads.
    """
    data = car.source.data
    return {
        "faults": [_fault(car, name, fault) for name, fault in car.faults.items()],
        "outside": {
            "share": data.outside,
            "with": {code: at for code, at in data.outside_with.items() if code in car.codes},
        },
        "codes": {code: _code(car, code) for code in car.codes},
        "complaints": {
            name: {"says": says, "false_alarm": COMPLAINT_FALSE_ALARM}
            for name, says in data.complaints.items()
        },
        "setups": {name: _setup(setup) for name, setup in car.setups.items()},
        "tests": [_test(car, name, test) for name, test in car.tests.items()],
        "opening": [
            {"id": name, "title": step.title, "minutes": step.minutes}
            for name, step in car.source.opening.items()
        ],
        "rate": labour_per_hour / 60,
        "currency": currency or None,
        "recheck_minutes": data.recheck,
    }


def _code(car: CarProcedure, code: str) -> dict[str, Any]:
    hidden = car.source.suppresses.get(code, ())
    return {
        "false_alarm": CODE_FALSE_ALARM,
        "suppresses": [other for other in hidden if other in car.codes],
    }


def _setup(setup: Setup) -> dict[str, Any]:
    waits = 0.0 if isinstance(setup.wait, UnsetType) else unit_table().parse("time", setup.wait)
    return {
        "says": setup.says,
        "minutes": setup.minutes,
        "wait": waits / 60,
        "state": setup.state,
        "burden": sum(HAZARD_MINUTES.get(hazard, 0.0) for hazard in setup.hazards),
    }


def _fault(car: CarProcedure, name: str, fault: Fault) -> dict[str, Any]:
    return {
        "id": name,
        "says": car.fault_name(name),
        "short": fault.short,
        "part": fault.part,
        "often": fault.often,
        "present": fault.present,
        "sets": {code: chance for code, chance in fault.sets.items() if code in car.codes},
        "complaints": dict(fault.complaints),
        "leads_to": {
            other: {"chance": knock.chance, "later": knock.later}
            for other, knock in fault.leads_to.items()
            if other in car.faults
        },
        "repair": {
            "minutes": fault.repair.minutes,
            "price": fault.repair.price,
            "cures": _cures(car, name, fault),
        },
    }


def _cures(car: CarProcedure, name: str, fault: Fault) -> list[str]:
    """List what else a repair clears: by the author's word, or all that the new part can have."""
    stated, repair = fault.repair.also_cures, fault.repair
    if not isinstance(stated, UnsetType):
        return [other for other in stated if other in car.faults]
    if repair.price <= 0.0 or not repair.section.startswith(FITTING):
        return []
    return [
        other
        for other, one in car.faults.items()
        if other != name
        and one.part == fault.part
        and one.repair.section == repair.section
        and one.repair.price == repair.price
    ]


def _test(car: CarProcedure, name: str, test: Test) -> dict[str, Any]:
    return {
        "id": name,
        "title": test.title,
        "short": test.short,
        "minutes": test.minutes,
        "price": 0.0 if isinstance(test.uses, UnsetType) else test.uses.price,
        "setup": None if isinstance(test.setup, UnsetType) else test.setup,
        "after": [other for other in test.after if other in car.tests],
        "opening": test.opening,
        "observations": [
            _observation(car, seen, observation) for seen, observation in test.observations.items()
        ],
    }


def _observation(car: CarProcedure, name: str, seen: Observation) -> dict[str, Any]:
    bands = [
        {
            "id": band_name,
            "says": band.says,
            "shows": _shows(car, band.shows),
            "false_alarm": band.false_alarm,
            "stops": _stops(car, band.stops),
        }
        for band_name, band in seen.bands.items()
    ]
    return {
        "id": name,
        "says": seen.asks or seen.reading,
        "restates": seen.restates_complaint,
        "bands": bands
        or [
            {
                "id": "abnormal",
                "says": _abnormal(seen),
                "shows": _shows(car, seen.shows),
                "false_alarm": seen.false_alarm,
                "stops": _stops(car, seen.stops),
            }
        ],
        "normal": seen.normal or _normal(seen),
    }


def _abnormal(seen: Observation) -> str:
    if seen.reading:
        return "out of limits"
    return "no" if seen.good is True else "yes"


def _normal(seen: Observation) -> str:
    if seen.reading:
        return "within limits"
    return "yes" if seen.good is True else "no"


def _shows(car: CarProcedure, shows: dict[str, float]) -> dict[str, float]:
    return {fault: chance for fault, chance in shows.items() if fault in car.faults}


def _stops(car: CarProcedure, stops: tuple[str, ...]) -> list[str]:
    known = {**car.tests, **car.source.data.setups}
    return [name for name in stops if name in known]
