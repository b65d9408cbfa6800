"""What doing a test takes from where the car stands, with all that must be done before it."""

from collections.abc import Collection
from dataclasses import dataclass

from baycalc.isolation.model.fault_model import Network
from baycalc.isolation.model.hypotheses import mask_of
from baycalc.isolation.planning.state import Stand, change_to


@dataclass(frozen=True)
class Step:
    """A test, with whatever must be done before it, as one move of the planner.

    Attributes
    ----------
    tests : tuple of int
        Their numbers, in the order in which they are done [-].
    cost, minutes, wait : float
        All of it [money], the work [min], the standing [min].
    stand : Stand
        How the car stands then.
    mask : int
        The tests as a mask [-].
    """

    tests: tuple[int, ...]
    cost: float
    minutes: float
    wait: float
    stand: Stand
    mask: int

    @property
    def first(self) -> int:
        """The test to be done now."""
        return self.tests[0]


class Steps:
    """The tests of a procedure as moves, each worked out once.

    Parameters
    ----------
    network : Network
        The procedure.
    begun : collection of int
        Tests that are being done: nothing more is counted for them [-].
    possible : int
        Mask of the tests that can be done [-].
    """

    def __init__(self, network: Network, begun: Collection[int], possible: int) -> None:
        self._network = network
        self._tests = network.tests
        self._number = {test.id: place for place, test in enumerate(self._tests)}
        self._begun = begun
        self._open = possible
        self._before = [self._all_before(test) for test in range(len(self._tests))]
        self._made: dict[tuple[int, Stand, int], Step | None] = {}

    def to(self, test: int, stand: Stand, met: int, still: int) -> Step | None:
        """Give a test with its cost; None where something before it cannot be done.

        Parameters
        ----------
        test : int
            Its number [-].
        stand : Stand
            How the car stands.
        met, still : int
            Masks of the tests done, and of those that may still be done [-].
        """
        key = (test, stand, met & self._before[test])
        if key not in self._made:
            self._made[key] = self._make_step(test, stand, met)
        step = self._made[key]
        return step if step is not None and step.mask & still == step.mask else None

    def _all_before(self, test: int) -> int:
        """Give the tests of which it depends what must be done before a test."""
        before, left = 0, [test]
        while left:
            for name in self._tests[left.pop()].after:
                place = self._number[name]
                if not before >> place & 1:
                    before |= 1 << place
                    left.append(place)
        return before

    def _make_step(self, test: int, stand: Stand, met: int) -> Step | None:
        chain = self._chain(test, met, ())
        if chain is None:
            return None
        minutes = wait = weight = price = 0.0
        for place in chain:
            one = self._tests[place]
            if place in self._begun:
                continue
            change = change_to(self._network, stand, one.setup)
            stand = change.stand
            minutes += one.minutes + change.minutes
            wait += change.wait
            weight += one.minutes + change.weight
            price += one.price
        return Step(
            chain, weight * self._network.rate + price, minutes, wait, stand, mask_of(chain)
        )

    def _chain(self, test: int, met: int, before: tuple[int, ...]) -> tuple[int, ...] | None:
        """Put what must be done first before a test, in an order that holds."""
        if not self._open >> test & 1:
            return None
        chain = before
        for name in self._tests[test].after:
            first = self._number[name]
            if first in chain or met >> first & 1:
                continue
            longer = self._chain(first, met, chain)
            if longer is None:
                return None
            chain = longer
        return (*chain, test)
