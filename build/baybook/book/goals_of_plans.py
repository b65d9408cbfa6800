"""How the plans of a book begin and what they cost, in lines for its author."""

from collections.abc import Iterable, Iterator

from baybook.book.bound import BoundProcedure
from baycalc import isolation


def plan_lines(bound: Iterable[BoundProcedure]) -> Iterator[str]:
    """Give a line for each network, and one for each first test of what hardly anybody suspects.

    Parameters
    ----------
    bound : Iterable[BoundProcedure]
        The procedures, each for its cars.
    """
    seen: set[str] = set()
    for car in bound:
        if car.key in seen:
            continue
        seen.add(car.key)
        starts = isolation.plan_starts(car.network)
        expected = sum(start["expected"] for start in starts) / len(starts)
        least = sum(start["at_least"] for start in starts) / len(starts)
        yield (
            f"{car.source.id} on {car.vehicle.id}: {len(starts)} starts, {expected:.0f} expected, "
            f"{least:.0f} at least (each fault known)"
        )
        for start in starts:
            if not start["speaks"]:
                code = start["code"] or "no code"
                yield f"    {code}: first {start['first']}, of which hardly anybody would think"
