"""Slips of Markdown that no one sees in the source: lists that are none, HTML left open."""

import re
from collections import Counter
from collections.abc import Iterator

from baybook.book.context import Context
from baybook.book.sources.sections import Section

_ITEM = re.compile(r"(\d+[.)]|[-*+]) +\S")
_PLAIN = re.compile(r"[^\s#>|<!{:\-*+\d`~]")
_BLOCKS = ("div", "section", "details", "summary", "figure", "figcaption", "table", "aside")
_TAG = re.compile(rf"<(/?)({'|'.join(_BLOCKS)})\b[^>]*?(/?)>", re.IGNORECASE)
_CODE = re.compile(r"`[^`]*`")


def check_markdown(context: Context) -> None:
    """Warn of lists that run into a paragraph, and of HTML that is not closed."""
    for section in context.source.sections:
        for line in lists_without_a_blank_line(section.text.split("\n")):
            context.report.at_line(
                section.text_line + line,
                "expected a blank line before a list, got none",
                "without it the items run on in the paragraph above",
                "warning",
            )
        _check_tags(context, section)


def lists_without_a_blank_line(lines: list[str]) -> Iterator[int]:
    """Give the lines, from 0, of which the item is only a piece of the paragraph above."""
    in_paragraph = False
    fence = ""
    for place, line in enumerate(lines):
        mark = line.strip()[:3]
        if mark in ("```", "~~~") and fence in ("", mark):
            fence = "" if fence else mark
            in_paragraph = False
        elif fence:
            continue
        elif not line.strip():
            in_paragraph = False
        elif in_paragraph and _ITEM.match(line):
            yield place
            in_paragraph = False
        elif not in_paragraph and (not place or not lines[place - 1].strip()):
            in_paragraph = bool(_PLAIN.match(line))


def _check_tags(context: Context, section: Section) -> None:
    opened: Counter[str] = Counter()
    first: dict[str, int] = {}
    for place, line in enumerate(section.text.split("\n")):
        for closing, name, alone in _TAG.findall(_CODE.sub("", line)):
            if alone:
                continue
            opened[name.lower()] += -1 if closing else 1
            first.setdefault(name.lower(), place)
    for name, count in opened.items():
        if count:
            missing = f"</{name}>" if count > 0 else f"<{name}>"
            context.report.at_line(
                section.text_line + first[name],
                f"expected {missing} in the same section, got none",
                "what follows would be drawn as plain text, or inside it",
            )
