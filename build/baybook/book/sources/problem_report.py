"""Problems of one source as they are found, each at the line of its field."""

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass

from baybook.book.sources.problems import BadSources, Problem, close_match
from baybook.book.sources.read import Lines, Path, dotted

_MOST_NAMES = 12
"""Names that a hint lists at most; more would bury the sentence."""


@dataclass(frozen=True, slots=True)
class Report:
    """Collects the problems of one source."""

    lines: Lines
    problems: list[Problem]

    def error(self, path: Path, text: str, hint: str = "") -> None:
        """Report a mistake at a field, unless the field could not be read at all."""
        if not self.lines.is_broken(path):
            self.problems.append(self.lines.problem(path, text, hint))

    def warning(self, path: Path, text: str, hint: str = "") -> None:
        """Report what is allowed but looks wrong, once the whole source can be read."""
        if not self.lines.broken:
            self.problems.append(self.lines.problem(path, text, hint, "warning"))

    def at_line(self, line: int, text: str, hint: str = "", severity: str = "error") -> None:
        """Report a mistake in the body."""
        if severity == "error" or not self.lines.broken:
            self.problems.append(Problem(self.lines.file, line, "", text, hint, severity))

    def knows(self, path: Path, name: str, known: Iterable[str], what: str) -> bool:
        """Report a name that refers to nothing; tell whether it is known."""
        names = list(known)
        if name in names:
            return True
        self.error(path, f"expected {what}, got {name}", name_hint(name, names))
        return False


@contextmanager
def written_from(lines: Lines, path: Path = (), line: int = 0) -> Iterator[None]:
    """Let whatever stops the writing of a page name the place in the source it came from.

    Raises
    ------
    BadSources
        With file and line, in place of any other error.
    """
    try:
        yield
    except BadSources:
        raise
    except Exception as error:
        text = f"expected what a page can be written from, got a fault: {error}"
        hint = "the check should have told this: please report it with the source"
        where = line or lines.line(path)
        raise BadSources([Problem(lines.file, where, dotted(path), text, hint)]) from error


def name_hint(name: str, known: Iterable[str]) -> str:
    """Return the close match of a name, or the names there are."""
    names = list(known)
    close = close_match(name, names)
    if close or not names:
        return close or "there are none"
    more = len(names) - _MOST_NAMES
    listed = ", ".join(names[:_MOST_NAMES]) + (f" and {more} more" if more > 0 else "")
    return f"known are {listed}"
