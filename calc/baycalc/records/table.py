"""A file of columns: separator, decimal comma, header are found; mistakes are told by line."""

import functools
import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime

_SEPARATORS = ("\t", ";", ",", "|", None)
_LOOKED_AT = 60
_NUMBER = re.compile(r"[+\-−]?(\d+([.,]\d*)?|[.,]\d+)([eE][+-]?\d+)?")
_CLOCK = re.compile(r"(?:(\d+):)?(\d{1,4}):(\d{1,2}(?:[.,]\d+)?)")
_DAY = re.compile(r"\d{4}-\d{2}-\d{2}[T ]\d{2}:\d{2}(:\d{2}.*)?")
_UNIT = re.compile(r"^(.*?)\s*[\[(]([^\[\]()]+)[\])]\s*$")
_MOST_TOLD = 3


class RecordError(ValueError):
    """A record that cannot be read: one sentence, with the line."""


@dataclass(frozen=True, slots=True)
class Table:
    """The columns of a record as they stand there.

    Parameters
    ----------
    names : tuple
        Name of each column; ``column 1`` where the record has no header
    units : tuple
        Unit of each column as the header says it, or empty
    rows : tuple
        Line of the text, counted from 1, and the entries of that line [-]
    """

    names: tuple[str, ...]
    units: tuple[str, ...]
    rows: tuple[tuple[int, Sequence[str]], ...]

    def place(self, wanted: str, otherwise: int) -> int:
        """Return the place of a column by its name, its start, or its number from 1.

        Parameters
        ----------
        wanted : str
            Name or number; empty for the usual one
        otherwise : int
            Place of the usual one, counted from 0 [-]

        Raises
        ------
        RecordError
            When there is no such column.
        """
        plain = wanted.strip().lower()
        if not plain:
            return min(otherwise, len(self.names) - 1)
        names = [name.lower() for name in self.names]
        if plain in names:
            return names.index(plain)
        if plain.isdigit() and 1 <= int(plain) <= len(names):
            return int(plain) - 1
        starts = [place for place, name in enumerate(names) if name.startswith(plain)]
        if len(starts) == 1:
            return starts[0]
        raise RecordError(
            f"There is no column “{wanted.strip()}”; there are {', '.join(self.names[:12])}."
        )

    def numbers(self, place: int) -> list[float]:
        """Return the numbers of a column; a time of day counts in seconds.

        Parameters
        ----------
        place : int
            Place of the column, counted from 0 [-]

        Raises
        ------
        RecordError
            When an entry is no number, with its line.
        """
        for mark in (".", ","):
            try:
                return [float(row[place].replace(mark, ".")) for _, row in self.rows]
            except (ValueError, IndexError):
                continue
        return self._slowly(place)

    def _slowly(self, place: int) -> list[float]:
        found, wrong = [], []
        for line, row in self.rows:
            entry = row[place].strip() if place < len(row) else ""
            value = _value(entry)
            if value is None:
                wrong.append(f"line {line}: expected a number, got “{entry[:20]}”")
            else:
                found.append(value)
        if wrong:
            more = f"; and {len(wrong) - _MOST_TOLD} more" if len(wrong) > _MOST_TOLD else ""
            told = "; ".join(wrong[:_MOST_TOLD])
            raise RecordError(f"Column {self.names[place]}, {told}{more}.")
        return found


def _value(entry: str) -> float | None:
    if _NUMBER.fullmatch(entry):
        return float(entry.replace(",", ".").replace("−", "-"))
    if clock := _CLOCK.fullmatch(entry):
        hours, minutes, seconds = clock.groups()
        return 3600 * int(hours or 0) + 60 * int(minutes) + float(seconds.replace(",", "."))
    if _DAY.fullmatch(entry):
        try:
            read = datetime.fromisoformat(entry.replace(",", "."))
            return (read if read.tzinfo else read.replace(tzinfo=UTC)).timestamp()
        except ValueError:
            return None
    return None


@functools.lru_cache(maxsize=4)
def read_table(text: str) -> Table:
    """Read a record: a file of columns, or pairs as they were typed.

    Parameters
    ----------
    text : str
        The whole record

    Raises
    ------
    RecordError
        When no line holds two numbers.
    """
    lines = text.removeprefix("\ufeff").replace('"', "").splitlines()
    filled = [(number, line) for number, line in enumerate(lines, 1) if line.strip()]
    separator = _separator([line for _, line in filled[:_LOOKED_AT]])
    split = [(number, _split(line, separator)) for number, line in filled]
    begins = next((at for at, (_, row) in enumerate(split) if _is_data(row)), None)
    if begins is None:
        raise RecordError(
            "No line of this record holds two numbers: expected columns of time and signal, such "
            "as “0; 0.45” on each line."
        )
    width = len(split[begins][1])
    heads = [row for _, row in split[:begins] if len(row) == width]
    names, units = _header(heads, width)
    return Table(names, units, tuple(split[begins:]))


def _split(line: str, separator: str | None) -> list[str]:
    return line.split() if separator is None else line.split(separator)


def _is_data(row: Sequence[str]) -> bool:
    values = [_value(entry.strip()) is not None for entry in row]
    return len(row) > 1 and sum(values) >= 2 and values[0]


def _separator(lines: Sequence[str]) -> str | None:
    """Return the separator that gives the most lines of one width with numbers only in them."""

    def worth(separator: str | None) -> tuple[int, float, int]:
        rows = [row for row in (_split(line, separator) for line in lines) if _is_data(row)]
        if not rows:
            return 0, 0.0, 0
        width, many = Counter(map(len, rows)).most_common(1)[0]
        entries = [_value(entry.strip()) for row in rows for entry in row]
        share = sum(value is not None for value in entries) / len(entries)
        return many, share, -width if separator == "," else width

    return max(_SEPARATORS, key=worth)


def _header(heads: Sequence[Sequence[str]], width: int) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return names and units of the columns: a line of names, maybe with a line of units below."""
    if not heads:
        return tuple(f"column {number + 1}" for number in range(width)), ("",) * width
    rows = [[entry.strip() for entry in head] for head in heads]
    below = rows[-1] if len(rows) > 1 and all(len(entry) <= 8 for entry in rows[-1]) else None
    names = rows[-2] if below else rows[-1]
    units = below or [""] * width
    parts = [_UNIT.match(name) for name in names]
    return (
        tuple(part[1] if part else name for part, name in zip(parts, names, strict=True)),
        tuple(part[2] if part else unit for part, unit in zip(parts, units, strict=True)),
    )
