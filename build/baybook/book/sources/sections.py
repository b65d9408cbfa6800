"""The body of a procedure taken apart into sections."""

import re
from dataclasses import dataclass

_HEADING = re.compile(r"^(#{1,3})\s+(.*?)(?:\s*\{#([a-z0-9-]+)\})?\s*$")
_FENCE = re.compile(r"^\s*(```|~~~)")


@dataclass(frozen=True, slots=True)
class Section:
    """One section of a procedure's body: its heading and the text up to the next one.

    Headings of level 4 and below belong to the text. ``line`` is that of the heading,
    ``text_line`` that of the text's first line.
    """

    id: str
    title: str
    level: int
    line: int
    text: str
    text_line: int


def _headings(all_lines: list[str]) -> list[tuple[re.Match[str], int]]:
    found = []
    fence = ""
    for number, line in enumerate(all_lines):
        mark = _FENCE.match(line)
        if mark and fence in ("", mark[1]):
            fence = "" if fence else mark[1]
        heading = None if fence else _HEADING.match(line)
        if heading:
            found.append((heading, number))
    return found


def sections_of(body: str, first_line: int) -> tuple[Section, ...]:
    """Return the sections of a body, in order."""
    all_lines = body.split("\n")
    found = _headings(all_lines)
    ends = [number for _, number in found[1:]] + [len(all_lines)]
    return tuple(
        _section(heading, first_line + number, all_lines[number + 1 : end])
        for (heading, number), end in zip(found, ends, strict=False)
    )


def _section(heading: re.Match[str], line: int, text: list[str]) -> Section:
    blank = next((place for place, row in enumerate(text) if row.strip()), 0)
    return Section(
        id=heading[3] or "",
        title=heading[2],
        level=len(heading[1]),
        line=line,
        text="\n".join(text[blank:]).rstrip(),
        text_line=line + 1 + blank,
    )


def text_before_sections(body: str, first_line: int) -> int:
    """Return the line of the first text that stands before any heading, or 0."""
    for number, line in enumerate(body.split("\n")):
        if _HEADING.match(line):
            return 0
        if line.strip():
            return first_line + number
    return 0


_ID = re.compile(r"\{[^{}]*#([a-zA-Z][\w-]*)[^{}]*\}|\bid=\"([^\"]+)\"")
_OF_PAGE = ("glance", "plan", "safety", "leads-on", "sources", "cars")
"""Ids that every page of a procedure has."""


def anchors(sections: tuple[Section, ...]) -> set[str]:
    """Return the ids to which a link can lead on a page with these sections."""
    found = {section.id for section in sections if section.id} | set(_OF_PAGE)
    for section in sections:
        found |= {one or other for one, other in _ID.findall(section.text)}
    return found
