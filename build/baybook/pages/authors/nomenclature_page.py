"""The nomenclature: symbol, name and unit of everything that is computed with."""

import re
from typing import Any

from baybook.pages.render import environment
from baybook.pages.site import Page, calculator_uri, relative
from baycalc import api
from baycalc.quantities.nomenclature import NOMENCLATURE, Symbol
from baycalc.quantities.units import label

_URI = "authors/nomenclature.md"


def nomenclature_page() -> Page:
    """Return the page of all symbols, each with the calculators that ask for it."""
    takers = _takers()
    subjects = [
        (heading, [_row(symbol, takers) for symbol in symbols]) for heading, symbols in NOMENCLATURE
    ]
    markdown = environment().get_template("authors_nomenclature.md.j2").render(subjects=subjects)
    return Page(_URI, "Nomenclature", markdown, ("For authors",))


def _takers() -> dict[str, list[tuple[str, str]]]:
    """Return title and address of the calculators that take an input, by its id."""
    takers: dict[str, list[tuple[str, str]]] = {}
    for name in api.names():
        declared = api.describe(name)
        for entry in declared.inputs:
            link = (declared.title, relative(calculator_uri(name), _URI))
            takers.setdefault(entry.id, []).append(link)
    return takers


def _row(symbol: Symbol, takers: dict[str, list[tuple[str, str]]]) -> dict[str, Any]:
    return {
        "text": _lowered(symbol.symbol),
        "name": symbol.name,
        "units": ", ".join("" if unit == "-" else label(unit) for unit in symbol.units),
        "given": [(name, takers.get(name, [])) for name in symbol.arguments],
    }


def _lowered(symbol: str) -> str:
    """Write the index of a symbol such as ``p_lim`` below the line."""
    return re.sub(r"_(\w+)", r"<sub>\1</sub>", symbol).replace("*", "\\*")
