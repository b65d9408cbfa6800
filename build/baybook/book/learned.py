"""What closed jobs have taught a book: which values, from how many jobs, and when.

The values themselves stand in the sources. Beside them is kept how much each of them weighs, so
that the next round of learning goes on from there; a value that an author changed since weighs
as one of theirs again.
"""

from datetime import date
from pathlib import Path
from typing import Any

import msgspec
from msgspec import Struct, field

FILE = "learned.json"
"""Name of the file in the folder of the sources."""


class LearnedValue(Struct, frozen=True):
    """A value as it was written, and for how many jobs it counts."""

    value: float
    weight: float


class LearnedFrom(Struct, frozen=True):
    """The last round of learning of one procedure."""

    jobs: int
    date: date
    values: dict[str, LearnedValue] = field(default_factory=dict)
    """By place, such as ``faults.pump-seized.often``."""


def read_learned(folder: Path) -> dict[str, LearnedFrom]:
    """Return what was learned of each procedure; nothing where the file is none or damaged."""
    path = folder / FILE
    try:
        return msgspec.json.decode(path.read_bytes(), type=dict[str, LearnedFrom])
    except (OSError, msgspec.MsgspecError):
        return {}


def learned_bytes(found: dict[str, LearnedFrom]) -> bytes:
    """Write what was learned as the text of the file."""
    return bytes(msgspec.json.format(msgspec.json.encode(found, order="sorted"), indent=1)) + b"\n"


def weights_of(learned: LearnedFrom, value_at: dict[str, Any]) -> dict[str, float]:
    """Return for how many jobs the learned values count that stand as they were written."""
    return {
        name: kept.weight
        for name, kept in learned.values.items()
        if value_at.get(name) == kept.value
    }
