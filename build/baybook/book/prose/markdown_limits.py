"""What a text may ask of the reader of Markdown, whose time grows with the square of some marks."""

import re

MOST_MARKS = 500
"""Opening brackets, of either kind, in one paragraph [-]."""

DEEPEST_QUOTE = 20
"""Quotes and lists that begin on one line [-]."""

TOO_DEEP = f"expected at most {DEEPEST_QUOTE} quotes or lists that begin on one line, got more"

DEEPEST_INDENT = 200
"""Blanks before the first letter of a line [-]."""

_OPENERS = re.compile(r"(?:[ \t]*(?:>|[-*+][ \t]|\d+\.[ \t]))*")
_ONE = re.compile(r">|[-*+][ \t]|\d+\.[ \t]")


def markdown_problem(text: str) -> tuple[int, str] | None:
    """Return the line, counted from 1, and the sentence of what would take too long to read."""
    marks = {"[": 0, "<": 0}
    for number, line in enumerate(text.split("\n"), 1):
        for mark in marks:
            marks[mark] = marks[mark] + line.count(mark) if line.strip() else 0
            if marks[mark] > MOST_MARKS:
                return number, f"expected at most {MOST_MARKS} of {mark} in a paragraph, got more"
        if len(line) - len(line.lstrip()) > DEEPEST_INDENT:
            return number, f"expected an indent of at most {DEEPEST_INDENT}, got more"
        opened = _OPENERS.match(line[:1000])
        if opened and len(_ONE.findall(opened[0])) > DEEPEST_QUOTE:
            return number, TOO_DEEP
    return None
