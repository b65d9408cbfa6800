"""Every kind of mistake that a check of the sources tells, with what it means and an example."""

import functools
from dataclasses import dataclass
from pathlib import Path

import yaml

_FILE = Path(__file__).with_name("mistakes.yml")


@dataclass(frozen=True, slots=True)
class Mistake:
    """A kind of mistake.

    ``says`` are the sentences by which it is told, with ``...`` for what differs.
    """

    id: str
    subject: str
    says: tuple[str, ...]
    means: str
    wrong: str
    right: str

    @property
    def title(self) -> str:
        """Its id as words."""
        return self.id.replace("-", " ").capitalize()


@functools.cache
def mistakes() -> tuple[Mistake, ...]:
    """Return all kinds of mistakes, by subject."""
    subjects = yaml.safe_load(_FILE.read_text("utf-8"))
    return tuple(
        Mistake(
            id=name,
            subject=subject,
            says=tuple(entry["says"]),
            means=entry["means"],
            wrong=entry["wrong"].rstrip("\n"),
            right=entry["right"].rstrip("\n"),
        )
        for subject, entries in subjects.items()
        for name, entry in entries.items()
    )
