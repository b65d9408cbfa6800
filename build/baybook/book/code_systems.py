"""Which system a code belongs to, and what a book says of a code without a procedure."""

import functools
from importlib.resources import files

from baybook.book.codes import title


@functools.cache
def _systems() -> tuple[tuple[int, int, str], ...]:
    text = files("baybook.book").joinpath("code_systems.txt").read_text(encoding="utf-8")
    lines = [line.split(" ", 1) for line in text.splitlines() if not line.startswith("#")]
    spans = [(span.split("-"), system) for span, system in lines]
    return tuple((_number(low), _number(high), system) for (low, high), system in spans)


def _number(code: str) -> int:
    return int(code[1:], 16)


def system_of(code: str) -> str:
    """Return the system of a generic powertrain code, or an empty text."""
    number = _number(code) if code.startswith("P") else -1
    return next((system for low, high, system in _systems() if low <= number <= high), "")


def no_way(code: str) -> str:
    """Say of a code with a title that it is known, and that the book has no way for it."""
    system = system_of(code) or "a system that this book does not treat"
    return f"{title(code)}. System: {system}. This book has no procedure for it."
