"""Draws 1000 seeded exercises of every procedure: do answers fit the network, is each key right?

python -m tests.bench.exercise_bench [PROCEDURE ...]
"""

import sys
from pathlib import Path

from tests.calc.exercise.cars import drawn, key_is_right, misfit

from baybook.book.asked_readings import asked_readings
from baybook.book.bound import BoundProcedure
from baybook.book.compiled import compile_book
from baycalc.exercise.hidden_car import HiddenCar
from baycalc.isolation.model.bayes_net import Model
from baycalc.isolation.model.read_network import from_data
from baycalc.isolation.planning.confirmation import confirmation_of

SEEDS = range(1, 1001)
SOURCES = Path(__file__).parents[2] / "procedures"


def main(names: tuple[str, ...] = ()) -> None:
    """Draw and work the exercises of each procedure on the first car that it serves."""
    first: dict[str, BoundProcedure] = {}
    for car in compile_book(SOURCES).bound:
        if not names or car.source.id in names:
            first.setdefault(car.source.id, car)
    for name, car in first.items():
        model = Model(from_data(car.network))
        readings = asked_readings(car, car.source.data.tools)
        wrong = [seed for seed in SEEDS if not key_is_right(model, readings, drawn(model, seed))]
        told = f"{len(SEEDS)} keys, {len(wrong)} wrong {wrong[:5]}"
        print(f"{name}/{car.vehicle.id}: {told}; {fit(model)}", flush=True)


def fit(model: Model) -> str:
    """Say how well the answers of seeded cars fit the chances of their network."""
    cars = [HiddenCar(model, drawn(model, seed)) for seed in SEEDS]
    off = {key: misfit(model, key, cars) for key in confirmation_of(model).keys}
    worst = max(off, key=off.__getitem__)
    squares = sum(each**2 for each in off.values())
    where = f"{off[worst]:.1f} sd, {worst.name}.{worst.observation}"
    return f"{len(cars)} cars, chi-square {squares:.0f} of {len(off)} degrees, worst {where}"


if __name__ == "__main__":
    main(tuple(sys.argv[1:]))
