"""The template language of bodies and shared texts: its environment and its words."""

import functools

import jinja2
from jinja2.sandbox import SandboxedEnvironment

FUNCTIONS = (
    "figure",
    "where",
    "quantity",
    "has",
    "test",
    "procedure",
    "calculator",
    "shared",
)
"""The functions that a text may call; each takes one text."""

VALUES = ("vehicle",)
"""The values that a text may use."""


@functools.cache
def environment() -> jinja2.Environment:
    """Return the environment in which bodies are filled in; it knows no other words."""
    found = SandboxedEnvironment(
        undefined=jinja2.StrictUndefined, trim_blocks=True, lstrip_blocks=True
    )
    found.globals.clear()
    return found
