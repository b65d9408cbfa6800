"""Titles of diagnostic trouble codes and the shape of a code (SAE J2012).

The titles lie in `code_titles.txt`, with their standing: the standard was not at hand.
"""

import re
from importlib.resources import files

_SHAPE = re.compile(r"([PBCU])([0-3])([0-9A-F])([0-9A-F]{2})")
_LETTERS = {"P": "powertrain", "B": "body", "C": "chassis", "U": "network"}
_SHARED_OWNERS = {"P": "02", "B": "0", "C": "0", "U": "0"}
_GROUPS = {
    "0": "fuel and air metering, auxiliary emission controls",
    "1": "fuel and air metering",
    "2": "fuel and air metering",
    "3": "ignition system or misfire",
    "4": "auxiliary emission controls",
    "5": "vehicle speed, idle speed, auxiliary inputs",
    "6": "computer and auxiliary outputs",
    "7": "transmission",
    "8": "transmission",
    "9": "transmission",
}


def _read_titles() -> dict[str, str]:
    """Read the table; a star behind a code says that its title is from memory."""
    text = files("baybook.book").joinpath("code_titles.txt").read_text(encoding="utf-8")
    lines = [line.split(" ", 1) for line in text.splitlines() if not line.startswith("#")]
    return {code.rstrip("*"): title for code, title in lines}


TITLES = _read_titles()
"""Title by code."""


def title(code: str) -> str:
    """Return the title of a code, or an empty text where none is known."""
    return TITLES.get(code, "")


def code_problem(code: str) -> tuple[str, str]:
    """Return what is odd about a code, and a hint; both empty where its title is known."""
    if code in TITLES:
        return "", ""
    hint = f"{shape(code)}; give it a title under `codes` of shared.yml"
    return f"expected a code with a known title, got {code}", hint


def shape(code: str) -> str:
    """Explain the characters of a code."""
    match = _SHAPE.fullmatch(code)
    if not match:
        return "a code is a letter P, B, C or U, a digit from 0 to 3, and three hex digits"
    letter, owner, group, _ = match.groups()
    return f"{code} is a {_LETTERS[letter]} code {_whose(letter, owner)}{_group(letter, group)}"


def _whose(letter: str, owner: str) -> str:
    if owner == "3":
        return "of a range shared by makers and SAE J2012"
    return "of SAE J2012" if owner in _SHARED_OWNERS[letter] else "of the maker's own"


def _group(letter: str, group: str) -> str:
    return f", {_GROUPS[group]}" if letter == "P" and group in _GROUPS else ""
