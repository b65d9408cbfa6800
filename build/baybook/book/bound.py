"""A procedure bound to a car, with its network: worked out once, asked for by checks and pages."""

import functools
import hashlib
import json
from functools import cached_property
from typing import Any

from baybook.book.car import CarProcedure
from baybook.book.equipment import variants
from baybook.book.network import network
from baybook.book.sources.load import Book, ProcedureSource, VehicleSource
from baycalc import isolation

_WORDS = ("says", "title", "currency")
"""What a network has for its readers only."""

_COSTS = ("rate", "minutes", "wait", "burden", "price", "recheck_minutes")
"""What of a network says what things cost, and nothing of what was seen."""


_SHARED = ("parts", "setups", "faults", "tests", "codes")


class BoundProcedure(CarProcedure):
    """A procedure for one car, as the planner and the pages need it."""

    def __init__(
        self,
        source: ProcedureSource,
        vehicle: VehicleSource,
        labour_per_hour: float = 60.0,
        currency: str = "",
        like: "BoundProcedure | None" = None,
    ) -> None:
        super().__init__(source, vehicle)
        for name in _SHARED if like else ():
            if getattr(self, name) == getattr(like, name):
                setattr(self, name, getattr(like, name))  # one of each for all cars of a page
        self._like = like
        self.labour_per_hour = labour_per_hour
        self.currency = currency

    @cached_property
    def network(self) -> dict[str, Any]:
        """Its network as plain data; no figure of the car is in it."""
        if self._like:
            return self._like.network
        return network(self, self.labour_per_hour, self.currency)

    @cached_property
    def key(self) -> str:
        """A name for its network; see `network_key`."""
        if self._like:
            return self._like.key
        return network_key(self.network)

    @cached_property
    def fingerprint(self) -> str:
        """A name for what its tests can say of its faults; costs do not count.

        It stands on the record of a job, so that the job is read by the network it was done with.
        """
        if self._like:
            return self._like.fingerprint
        return _key(self.network, (*_WORDS, *_COSTS))

    @property
    def testability(self) -> dict[str, Any]:
        """What its tests detect and separate: the fields of `isolation.diagnosability`."""
        return _testability(json.dumps(self.network))


# A live preview asks again at each change, and most networks are as they were.
@functools.lru_cache(maxsize=512)
def _testability(text: str) -> dict[str, Any]:
    return isolation.diagnosability(json.loads(text))


def bind(book: Book, labour_per_hour: float = 60.0, currency: str = "") -> list[BoundProcedure]:
    """Return each procedure for each car that it serves.

    Parameters
    ----------
    book : Book
        The sources.
    labour_per_hour : float
        What an hour of work costs, in the book's currency [1/h]
    currency : str
        Its sign.
    """
    found = []
    for variant in variants(book):
        first = None
        for vehicle in variant.cars:
            car = BoundProcedure(variant.source, vehicle, labour_per_hour, currency, first)
            first = first or car
            found.append(car)
    return found


def network_key(data: dict[str, Any]) -> str:
    """Return a name for a network that changes with everything but the wording of it."""
    return _key(data, _WORDS)


def _key(data: dict[str, Any], names: tuple[str, ...]) -> str:
    return hashlib.sha256(json.dumps(_without(data, names)).encode()).hexdigest()[:16]


def _without(data: Any, names: tuple[str, ...]) -> Any:
    if isinstance(data, dict):
        return {name: _without(data[name], names) for name in data if name not in names}
    return [_without(each, names) for each in data] if isinstance(data, list) else data
