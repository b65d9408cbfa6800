"""Reads plain JSON objects field by field and gathers every problem, so that none hides another."""

from collections.abc import Iterator
from typing import Any

Json = dict[str, Any]


class Fields:
    """One JSON object while it is being read.

    Parameters
    ----------
    data : object
        What the JSON holds at this place [-].
    where : str
        The path to this place, for messages [-].
    problems : list of str
        The list that all places share [-].
    """

    def __init__(self, data: object, where: str, problems: list[str]) -> None:
        self.where = where
        self.problems = problems
        self.data: Json = {}
        self.seen: set[str] = set()
        if isinstance(data, dict):
            self.data = data
        else:
            self.problem("", "an object", data)

    def problem(self, name: str, expected: str, got: object) -> None:
        """Note one problem at a field of this object."""
        path = ".".join(part for part in (self.where, name) if part)
        self.problems.append(f"{path or 'network'}: expected {expected}, got {got!r}")

    def text(self, name: str, default: str | None = None) -> str:
        """Take a text that is not empty."""
        value = self._take(name, default)
        if isinstance(value, str) and value:
            return value
        self.problem(name, "a text", value)
        return "?"

    def words(self, name: str) -> str:
        """Take a text that may be empty; missing means empty."""
        value = self._take(name, "")
        if isinstance(value, str):
            return value
        self.problem(name, "a text", value)
        return ""

    def flag(self, name: str) -> bool:
        """Take true or false; missing means false."""
        value = self._take(name, False)
        if not isinstance(value, bool):
            self.problem(name, "true or false", value)
        return value is True

    def optional_text(self, name: str) -> str | None:
        """Take a text, or None where the field is missing or null."""
        return None if self._take(name, None) is None else self.text(name)

    def number(
        self, name: str, default: float | None = None, low: float = 0.0, above: bool = False
    ) -> float:
        """Take a number of at least `low`, or above it where `above` says so.

        Parameters
        ----------
        name : str
            Name of the field
        default : float
            What a missing field means, or ``None`` where it must be there [as the field]
        low : float
            Bound of what is allowed [as the field]
        above : bool
            Whether the bound itself is not allowed

        Returns
        -------
        float
            The number [as the field]
        """
        value = self._take(name, default)
        if is_number(value) and (value > low if above else value >= low):
            return float(value)
        self.problem(name, f"a number {'above' if above else 'of at least'} {low:g}", value)
        return low + 1.0

    def chance(self, name: str, default: float | None = None) -> float:
        """Take a chance between 0 and 1.

        Parameters
        ----------
        name : str
            Name of the field
        default : float
            What a missing field means, or ``None`` where it must be there [-]

        Returns
        -------
        float
            The chance [-]
        """
        value = self._take(name, default)
        if is_number(value) and 0.0 <= value <= 1.0:
            return float(value)
        self.problem(name, "a chance between 0 and 1", value)
        return 0.0

    def optional_chance(self, name: str) -> float | None:
        """Take a chance, or None where the field is missing or null [-]."""
        return None if self._take(name, None) is None else self.chance(name)

    def chances(self, name: str) -> dict[str, float]:
        """Take an object whose values are chances; missing means empty."""
        inner = self.inner(name)
        return {key: inner.chance(key) for key in inner.data}

    def names(self, name: str) -> tuple[str, ...]:
        """Take a list of texts; missing means empty."""
        value = self._take(name, [])
        if isinstance(value, list) and all(isinstance(item, str) for item in value):
            return tuple(value)
        self.problem(name, "a list of texts", value)
        return ()

    def inner(self, name: str) -> "Fields":
        """Take an object; missing means empty."""
        return Fields(self._take(name, {}), self._path(name), self.problems)

    def each(self, name: str) -> Iterator["Fields"]:
        """Take a list of objects, one after the other; missing means empty."""
        value = self._take(name, [])
        if not isinstance(value, list):
            self.problem(name, "a list", value)
            return
        for number, item in enumerate(value):
            yield Fields(item, f"{self._path(name)}[{number}]", self.problems)

    def finish(self) -> None:
        """Note every field that nothing asked for."""
        known = ", ".join(sorted(self.seen))
        for name in self.data:
            if name not in self.seen:
                self.problem("", f"one of the fields {known}", name)

    def _take(self, name: str, default: object) -> Any:
        self.seen.add(name)
        return self.data.get(name, default)

    def _path(self, name: str) -> str:
        return f"{self.where}.{name}" if self.where else name


def is_number(value: object) -> bool:
    """Tell whether a JSON value is a finite number."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        return False
    return abs(value) < 1e300
