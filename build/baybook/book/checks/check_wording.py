"""How a procedure is worded: short sentences, one action each, the words of the trade.

The anchor is ASD-STE100 (Simplified Technical English): a sentence of a procedure has at most 20
words, and says one instruction unless two things happen at the same time. From memory.
"""

import functools
import re
from collections.abc import Iterator
from importlib.resources import files

import yaml

from baybook.book.sources.load import Book
from baybook.book.sources.problems import Problem

GREATEST_LENGTH = 20
"""Most words of a sentence in a step [-]."""

_STEP = re.compile(r"\s*\d+\. (?P<step>.+)")
_TEMPLATE_BLOCK = re.compile(r"\{%.*?%\}")
_TEMPLATE_WORD = re.compile(r"\{\{.*?\}\}")
_ASIDE = re.compile(r"\([^)]*\)")
_END = re.compile(r"(?<=[.?!:;])\s+")

_FIRST = (
    "adjust|bolt|bridge|check|clamp|clean|close|command|compare|connect|crank|cut|disconnect|drain|"
    "draw|drive|fill|fit|follow|hold|keep|lay|lead|leave|let|lift|listen|look|loosen|lower|mark|"
    "measure|move|open|pinch|press|probe|pull|push|put|raise|read|record|remove|repair|repeat|"
    "replace|set|shut|snap|soak|squeeze|start|stop|switch|take|tighten|turn|unplug|wait|watch|write"
)
_SECOND = (
    "adjust|close|compare|connect|disconnect|drain|fit|follow|hold|keep|leave|let|lift|listen|"
    "loosen|measure|move|open|press|pull|push|put|raise|read|record|remove|repair|repeat|replace|"
    "shut|squeeze|stop|switch|take|tighten|turn|unplug|wait|watch|write"
)
_TWO_ACTIONS = re.compile(rf"(?:{_FIRST})\b.*?,? (?:and|then) (?P<second>{_SECOND})\b [^ ]", re.I)


@functools.cache
def trade_words() -> dict[str, str]:
    """Return what the trade says, by what an author might write instead."""
    text = files("baybook.book").joinpath("wording.yml").read_text(encoding="utf-8")
    return {str(word): str(better) for word, better in yaml.safe_load(text).items()}


@functools.cache
def _replaced() -> re.Pattern[str]:
    words = "|".join(map(re.escape, sorted(trade_words(), key=len, reverse=True)))
    return re.compile(rf"(?<![\w-])(?:{words})(?![\w-])", re.IGNORECASE)


def check_wording(book: Book) -> list[Problem]:
    """Return warnings: long sentences and double actions in steps, words that the trade replaces.

    Parameters
    ----------
    book : Book
        The sources; procedures and shared texts are read, front matter is not.
    """
    return sorted(
        Problem(file, number, "", text, hint, "warning")
        for file, first, passage in _passages(book)
        for number, line in enumerate(passage.split("\n"), first)
        for text, hint in _of_line(_TEMPLATE_WORD.sub("X", _TEMPLATE_BLOCK.sub("", line)))
    )


def _passages(book: Book) -> Iterator[tuple[str, int, str]]:
    for source in book.procedures.values():
        for section in source.sections:
            yield source.lines.file, section.text_line, section.text
    for name, text in book.shared_texts.items():
        yield book.shared_text_files[name], 1, text


def _of_line(line: str) -> Iterator[tuple[str, str]]:
    yield from _of_steps(line)
    yield from _of_words(line)


def _of_steps(line: str) -> Iterator[tuple[str, str]]:
    step = _STEP.fullmatch(line)
    if step is None:
        return
    for sentence in _END.split(_ASIDE.sub("", step["step"])):
        length = len(sentence.split())
        if length > GREATEST_LENGTH:
            yield (
                f"expected at most {GREATEST_LENGTH} words in a sentence of a step, got {length}",
                f"cut it in two: {_start(sentence)}",
            )
        two = _TWO_ACTIONS.match(sentence)
        if two:
            yield (
                f"expected one action in a sentence, got a second one: {two['second']}",
                f"cut it in two: {_start(sentence)}",
            )


def _of_words(line: str) -> Iterator[tuple[str, str]]:
    for found in _replaced().finditer(line):
        better = trade_words()[found[0].lower()]
        yield f"expected a word of the trade, got {found[0]}", f"write {better}"


def _start(sentence: str) -> str:
    words = sentence.split()
    return " ".join(words[:8]) + (" ..." if len(words) > 8 else "")
