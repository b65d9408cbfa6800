"""What is asked of each reading of a procedure on one car, as the engine judges it."""

from typing import Any

from baybook.book.car import CarProcedure, gauge_si
from baybook.book.source_model import Observation, Tool


def asked_readings(car: CarProcedure, tools: dict[str, Tool]) -> dict[str, dict[str, Any]]:
    """Return by ``test.observation`` what `baycalc.measurement.reading.judge_reading` is asked.

    Parameters
    ----------
    car : CarProcedure
        The procedure bound to a vehicle.
    tools : dict
        The tools by their ids.

    Notes
    -----
    The limits are those of the car, in SI; a reading itself is not there.
    """
    return {
        f"{name}.{seen}": _asked(car, observation, tools)
        for name, test in car.tests.items()
        for seen, observation in test.observations.items()
        if observation.reading
    }


def _asked(car: CarProcedure, observation: Observation, tools: dict[str, Tool]) -> dict[str, Any]:
    limit = car.bounds(observation)
    gauge = tools[str(observation.gauge)].gauges[observation.kind]
    return {
        "kind": observation.kind,
        "reference": observation.reference,
        "low": limit.low,
        "high": limit.high,
        "gauge": gauge_si(gauge, observation.kind),
        "units": list(car.units(observation)),
        "scales": bool(getattr(observation.limit, "scales_with_air", False)),
    }
