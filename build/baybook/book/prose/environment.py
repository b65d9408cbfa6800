"""The template language of bodies and shared texts: its environment and its words."""

import functools
from collections.abc import Mapping
from typing import Any

import jinja2

from baybook.book.prose.budget import budget
from baybook.book.prose.sandbox import Sandbox

FUNCTIONS = (
    "figure",
    "where",
    "quantity",
    "has",
    "test",
    "procedure",
    "calculator",
    "shared",
    "picture",
    "video",
    "file",
    "pins",
    "torques",
)
"""The functions that a text may call; each takes one text, those of `MORE` others behind it."""

MORE = {"picture": (1, 3), "video": (1, 2), "file": (1, 2)}
"""Functions that take several texts: the least and the most."""

VALUES = ("vehicle",)
"""The values that a text may use."""


@functools.cache
def environment() -> jinja2.Environment:
    """Return the environment in which bodies are filled in; it knows no other words."""
    return Sandbox(undefined=jinja2.StrictUndefined, trim_blocks=True, lstrip_blocks=True)


def fill_in(text: str, words: Mapping[str, Any]) -> str:
    """Fill a text in, within the same budget wherever it is done.

    Raises
    ------
    TooMuch
        When it costs more than a page may.
    jinja2.TemplateError
        When it cannot be filled in.
    """
    with budget():
        return _compiled(text).render(words)


@functools.lru_cache(maxsize=2000)
def _compiled(text: str) -> jinja2.Template:
    return environment().from_string(text)
