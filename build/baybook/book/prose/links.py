"""Links, pictures and files of a text: what they name, and where that is below the sources."""

import posixpath
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass

_TITLE = r'(?:\s+"[^"]*")?'
_MARKDOWN = re.compile(rf"(!?)\[((?:[^\[\]]|\[[^\[\]]*\])*)\]\(\s*<?([^()\s<>]*)>?{_TITLE}\s*\)")
_HTML = re.compile(r'<(?:a|img|video|source|audio)\b[^<>]*?\b(?:href|src)="([^"]*)"', re.IGNORECASE)
_SCHEME = re.compile(r"[a-zA-Z][a-zA-Z0-9+.-]*:|//")
_CODE = re.compile(r"`[^`]*`|\{\{[^{}]*\}\}|\{%[^%]*%\}|\{#[^#]*#\}")
"""No pattern runs past the next sign that opens it: the time grows as the text does."""


@dataclass(frozen=True, slots=True)
class TextLink:
    """A link of a text: its line from 0, its target, and whether it is a picture without words."""

    line: int
    target: str
    mute: bool = False


def links(text: str) -> Iterator[TextLink]:
    """Give the links and pictures that a text writes in Markdown or HTML, outside code."""
    fence = ""
    for place, line in enumerate(text.split("\n")):
        mark = line.strip()[:3]
        if mark in ("```", "~~~") and fence in ("", mark):
            fence = "" if fence else mark
            continue
        if fence:
            continue
        plain = _CODE.sub("", line)
        for picture, words, target in _MARKDOWN.findall(plain):
            yield TextLink(place, target, bool(picture) and not words.strip())
        for target in _HTML.findall(plain):
            yield TextLink(place, target)


def is_elsewhere(target: str) -> bool:
    """Tell whether a target lies outside the book, or is an address from the site's root."""
    return bool(_SCHEME.match(target)) or target.startswith("/") or not target


def place_of(target: str, file: str) -> tuple[str, ...]:
    """Return the places below the sources that a target can mean, the nearest first.

    Parameters
    ----------
    target : str
        What the text writes, such as ``img/neck.png``.
    file : str
        The file of the text, as problems show it: it begins with the folder of the sources.
    """
    folder = posixpath.dirname(file.partition("/")[2])
    name = target.partition("#")[0].partition("?")[0]
    near = posixpath.normpath(posixpath.join(folder, name))
    return tuple(dict.fromkeys((near, posixpath.normpath(name))))


def with_targets(text: str, resolve: Callable[[str], str]) -> str:
    """Return a text with the targets of its links put through a function, outside fenced code."""
    written: list[str] = []
    fence = ""
    for line in text.split("\n"):
        mark = line.strip()[:3]
        if mark in ("```", "~~~") and fence in ("", mark):
            fence = "" if fence else mark
        elif not fence:
            for pattern in (_MARKDOWN, _HTML):
                line = pattern.sub(lambda match: _with_target(match, resolve), line)
        written.append(line)
    return "\n".join(written)


def _with_target(match: re.Match[str], resolve: Callable[[str], str]) -> str:
    last = match.re.groups
    target = match[last]
    if not target or _SCHEME.match(target) or target.startswith("#"):
        return match[0]
    start, end = match.start(last) - match.start(), match.end(last) - match.start()
    return match[0][:start] + resolve(target) + match[0][end:]
