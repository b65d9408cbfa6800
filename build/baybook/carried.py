"""What others made and the book carries: name, version, licence with its text, and hash."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Carried:
    """One thing that others made and the book carries.

    Attributes
    ----------
    name, version : str
        As its package says.
    licence : str
        By the identifier of SPDX.
    purpose : str
        What the book has it for.
    integrity : str
        Hash of the package that it came in, as npm writes it.
    text : str
        Text of its licence.
    source : str
        Where its source is to be had, where it is carried compiled; else empty.
    """

    name: str
    version: str
    licence: str
    purpose: str
    integrity: str
    text: str = ""
    source: str = ""
