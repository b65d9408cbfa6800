"""Safety messages between two steps: they belong to the list, so that its numbers go on."""

import re

_STEP = re.compile(r"\d+[.)] ")
_MESSAGE = re.compile(r'( *!!! (danger|warning|caution|notice)) *("(.*)")? *$')
_INDENT = "    "


def messages_in_steps(text: str) -> str:
    """Indent the messages that stand between two steps, and put signal words into their titles.

    Parameters
    ----------
    text : str
        Markdown with messages such as ``!!! warning "Hot"``.

    Returns
    -------
    str
        The same text; a message right before a step stands inside the list.
    """
    lines = text.split("\n")
    written: list[str] = []
    place, in_list = 0, False
    while place < len(lines):
        line = lines[place]
        message = _MESSAGE.match(line)
        if not message:
            in_list = bool(_STEP.match(line)) or (in_list and (not line or line.startswith("  ")))
            written.append(line)
            place += 1
            continue
        end = _end_of(lines, place)
        inside = in_list and line.startswith("!!!") and _is_step(lines, end)
        block = [_titled(message), *lines[place + 1 : end]]
        written += [_INDENT + each if inside and each else each for each in block]
        place = end
    return "\n".join(written)


def _end_of(lines: list[str], place: int) -> int:
    """Return the line behind a message: the first one that is not indented below it."""
    depth = len(lines[place]) - len(lines[place].lstrip()) + len(_INDENT)
    end = place + 1
    while end < len(lines) and (not lines[end].strip() or lines[end].startswith(" " * depth)):
        end += 1
    return end


def _is_step(lines: list[str], place: int) -> bool:
    return place < len(lines) and bool(_STEP.match(lines[place]))


def _titled(message: re.Match[str]) -> str:
    head, word, _, title = message.groups()
    return f'{head} "{word.upper()}{f": {title}" if title else ""}"'
