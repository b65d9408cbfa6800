"""Problems of sources: where, what was expected, what came, and a hint."""

import difflib
from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, order=True)
class Problem:
    """One mistake in a source, or a warning about it; line 0 is the file as a whole."""

    file: str
    line: int
    field: str
    text: str
    hint: str = ""
    severity: str = "error"

    def __str__(self) -> str:
        place = f"{self.file}:{self.line}: " if self.line else f"{self.file}: "
        what = f"{self.field}: {self.text}" if self.field else self.text
        mark = "warning: " if self.severity == "warning" else ""
        return f"{place}{mark}{what}" + (f"\n    hint: {self.hint}" if self.hint else "")


class BadSources(Exception):
    """The sources have mistakes; nothing was built."""

    def __init__(self, problems: Iterable[Problem], closing: str = "") -> None:
        self.problems = sorted(set(problems))
        lines = [*map(str, self.problems), *filter(None, [closing])]
        super().__init__("\n".join(lines))


def close_match(word: str, known: Iterable[str]) -> str:
    """Return ``did you mean X?`` for the known word nearest to a misspelt one, or nothing."""
    found = difflib.get_close_matches(word, list(known), n=1, cutoff=0.6)
    return f"did you mean {found[0]}?" if found else ""
