"""Which system a code belongs to, and what a book says of a code without a procedure."""

import functools
from collections.abc import Iterable, Mapping
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


def treated(procedures: Iterable[tuple[str, Iterable[str]]]) -> dict[str, tuple[str, ...]]:
    """Give the titles of the procedures that treat a system, by that system.

    Parameters
    ----------
    procedures : iterable of tuple
        The title of each procedure and its codes.
    """
    found: dict[str, dict[str, None]] = {}
    for name, codes in procedures:
        for system in {system_of(code) for code in codes} - {""}:
            found.setdefault(system, {})[name] = None
    return {system: tuple(names) for system, names in found.items()}


def no_way(code: str, near: Mapping[str, tuple[str, ...]] | None = None) -> str:
    """Say of a code with a title that it is known, and that the book has no way for it.

    Parameters
    ----------
    code : str
        The code.
    near : mapping, optional
        Titles of the procedures that treat other codes of a system, by the system.
    """
    system = system_of(code)
    named = system or "a system that this book does not treat"
    said = f"{title(code)}. System: {named}. This book has no procedure for it."
    if "diesel" in system:
        return f"{said} Diesel is another book."
    titles = (near or {}).get(system, ())
    return f"{said} For other codes of this system: {'; '.join(titles)}." if titles else said
