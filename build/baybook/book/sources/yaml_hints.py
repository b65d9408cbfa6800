"""Where YAML does not parse: the line that is to blame, and what most often helps there."""

import re

_NO_SPACE = re.compile(r"^\s*(?:- )?[A-Za-z][\w-]*:[^\s/:]")
_CURLY = re.compile(r"[“”„‟‘’]")
_ODD_INDENT = re.compile(r"^[ \t]*[\u00a0\u2007\u202f\u3000]")
_BEFORE = 2
"""Lines above the one that YAML names in which the slip may stand."""


def blamed(text: str, line: int, problem: str) -> tuple[int, str]:
    """Return the line, counted from 0, on which a fault of YAML most likely lies, and a hint.

    Parameters
    ----------
    text : str
        The YAML text.
    line : int
        The line that the reader of YAML names, from 0 [-]
    problem : str
        What it says.
    """
    lines = text.split("\n")
    near = [place for place in range(line, line - _BEFORE - 1, -1) if 0 <= place < len(lines)]
    for place in range(min(line, len(lines) - 1) + 1):
        if _ODD_INDENT.match(lines[place]):
            return place, "this line begins with a no-break space: indent with plain spaces"
    for place in near:
        curly = _CURLY.search(lines[place])
        if curly:
            return place, f'{curly[0]} is a curly quote: write straight ones, "..."'
    for place in near:
        if _NO_SPACE.match(lines[place]):
            name = lines[place].strip().partition(":")[0]
            return place, f"a space belongs behind the colon: {name}: ..."
    if "'\\t'" in problem:
        return line, "indent with spaces, not with tabs"
    if "mapping values" in problem:
        return line, _indented_more(lines, line) or "a text with a colon in it needs quotes"
    return line, "look at the indentation, quotes and brackets up to this line"


def _indented_more(lines: list[str], line: int) -> str:
    """Say by how much a line is indented where it stands deeper than the one above."""
    above = next((text for text in reversed(lines[:line]) if text.strip()), "")
    if line >= len(lines) or above.rstrip().endswith((":", ",", "[", "{")):
        return ""
    own, before = _indent(lines[line]), _indent(above)
    if own <= before or lines[line].count(": ") > 1:
        return ""
    return f"this line is indented by {own}, the one above by {before}"


def _indent(text: str) -> int:
    return len(text) - len(text.lstrip(" "))
