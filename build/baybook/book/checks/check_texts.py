"""What stands in the texts of a body: safety messages, and quantities in one unit system only."""

import functools
import re
from collections.abc import Iterator
from typing import get_args

from baybook.book.context import Context
from baybook.book.figure_texts import units_like
from baybook.book.pint_quantities import KINDS, unit_table
from baybook.book.source_model import Signal
from baybook.book.sources.problem_report import name_hint

_SIGNALS: tuple[str, ...] = get_args(Signal)
_MESSAGE = re.compile(r"^\s*!!!\s*([\w-]*)")
_TEMPLATE = re.compile(r"\{\{.*?\}\}|\{%.*?%\}|\{#.*?#\}|`[^`]*`")
_WORDS = {"in"}
"""Units that are English words too."""


_TORQUES = ("Nm", "N·m", "lb-ft", "ft-lb", "lb-in", "in-lb", "ft lb", "lb ft", "in lb")
"""Ways in which a torque is written beside the symbols of its units."""


def _units_of_one_system() -> set[str]:
    return {
        symbol
        for kind in KINDS
        for symbol in unit_table().symbols(kind)
        if symbol not in _WORDS
        and symbol[0] != "1"
        and len(set(units_like(kind, f"1 {symbol}"))) == 2
    }


@functools.cache
def _bare_quantity() -> re.Pattern[str]:
    units = "|".join(map(re.escape, sorted({*_units_of_one_system(), *_TORQUES}, reverse=True)))
    return re.compile(rf"(?<![\w.])[-+−]?\d+(?:[.,]\d+)*[\s\u00a0\u202f]*(?:{units})(?![\w/])")


def check_texts(context: Context) -> None:
    """Check the safety messages and the quantities of all sections."""
    for section in context.source.sections:
        lines = section.text.split("\n")
        for place, line in _outside_code(lines):
            number = section.text_line + place
            message = _MESSAGE.match(line)
            if message:
                _check_message(context, number, message[1], lines[place + 1 :])
            for found in _bare_quantity().finditer(_TEMPLATE.sub("", line)):
                context.report.at_line(
                    number,
                    f'expected {{{{ quantity("{found[0]}") }}}}, got {found[0]}',
                    "written bare, it does not follow the reader's unit system",
                    "warning",
                )


def _outside_code(lines: list[str]) -> Iterator[tuple[int, str]]:
    fence = ""
    for place, line in enumerate(lines):
        mark = line.strip()[:3]
        if mark in ("```", "~~~") and fence in ("", mark):
            fence = "" if fence else mark
        elif not fence:
            yield place, line


def _check_message(context: Context, line: int, word: str, after: list[str]) -> None:
    if word not in _SIGNALS:
        context.report.at_line(
            line, f"expected a signal word, got {word or 'nothing'}", name_hint(word, _SIGNALS)
        )
    first = next((text for text in after if text.strip()), "")
    if not first.startswith("    "):
        context.report.at_line(
            line,
            "expected an indented text below the safety message, got none",
            "indent hazard, result and how to avoid it by four spaces",
        )
