"""What filling in a text may cost: steps and letters are counted, and there is an end to both."""

from collections.abc import Iterator, Sized
from contextlib import contextmanager
from contextvars import ContextVar
from typing import Any

MOST = 300_000
"""Steps and letters that one text of an author may cost, with all that it shares [-]."""

LONGEST = 50_000
"""Letters or entries of one value on the way [-]."""

LARGEST = 1e15
"""Greatest whole number [-]."""


class TooMuch(Exception):
    """A text costs more than a page may."""


_left: ContextVar[int | None] = ContextVar("left", default=None)


@contextmanager
def budget() -> Iterator[None]:
    """Count the cost of one text; a text inside another one counts with it."""
    if _left.get() is not None:
        yield
        return
    token = _left.set(MOST)
    try:
        yield
    finally:
        _left.reset(token)


def spend(steps: int) -> None:
    """Count steps.

    Raises
    ------
    TooMuch
        When nothing is left.
    """
    left = _left.get()
    if left is None:
        return
    if steps > left:
        raise TooMuch(f"it takes more than {MOST:,} steps and letters")
    _left.set(left - steps)


def weigh(value: Any) -> Any:
    """Count what it took to make a value, and return it.

    Raises
    ------
    TooMuch
        When the value is too large, or nothing is left.
    """
    if isinstance(value, int) and abs(value) > LARGEST:
        raise TooMuch(f"a number is greater than {LARGEST:g}")
    if isinstance(value, Iterator):
        return _counted(value)
    size = len(value) if isinstance(value, Sized) else 0
    if size > LONGEST:
        raise TooMuch(f"a value has {size:,} letters; {LONGEST:,} are the most")
    spend(1 + size)
    return value


def weigh_all(values: Any) -> None:
    """Count what is read when values are joined: those inside lists too."""
    for value in values:
        weigh(value)
        if isinstance(value, list | tuple):
            weigh_all(value)


def _counted(values: Iterator[Any]) -> Iterator[Any]:
    for value in values:
        yield weigh(value)


def counted(values: Any, cost: int) -> Iterator[Any]:
    """Give the entries of a loop, each for what its body costs."""
    for value in values:
        spend(cost)
        yield value
