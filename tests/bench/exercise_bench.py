"""Works 1000 seeded exercises of every procedure: is each key right, do answers fit the network?

python -m tests.bench.exercise_bench [PROCEDURE ...]
"""

import sys
from pathlib import Path

from tests.calc.exercise.cars import drawn, key_is_right, misfit

from baybook.book.asked_readings import asked_readings
from baybook.book.bound import BoundProcedure
from baybook.book.compiled import compile_book
from baycalc.isolation.model.bayes_net import Model
from baycalc.isolation.model.read_network import from_data
from baycalc.isolation.planning.confirmation import confirmation_of

SEEDS = range(1, 1001)
SOURCES = Path(__file__).parents[2] / "procedures"


def main(names: tuple[str, ...] = ()) -> None:
    """Work the exercises of each procedure on the first car that it serves."""
    first: dict[str, BoundProcedure] = {}
    for car in compile_book(SOURCES).bound:
        first.setdefault(car.source.id, car)
    for name, car in first.items():
        if names and name not in names:
            continue
        model = Model(from_data(car.network))
        readings = asked_readings(car, car.source.data.tools)
        wrong = [seed for seed in SEEDS if not key_is_right(model, readings, drawn(model, seed))]
        worst, key = max((misfit(model, key, SEEDS), key) for key in confirmation_of(model).keys)
        told = f"{len(SEEDS)} exercises, {len(wrong)} keys wrong {wrong[:5]}"
        where = f"({key.name}.{key.observation})"
        print(f"{name}/{car.vehicle.id}: {told}; worst fit {worst:.1f} sd {where}", flush=True)


if __name__ == "__main__":
    main(tuple(sys.argv[1:]))
