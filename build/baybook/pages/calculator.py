"""A calculator's form and first answer, and its page; all of it from the declaration."""

from collections import Counter
from collections.abc import Mapping
from typing import Any
from urllib.parse import urlencode

from markupsafe import Markup

from baybook.book.figure_texts import Pair
from baybook.pages.form_fields import form_groups
from baybook.pages.render import html
from baybook.pages.site import CALCULATORS_URI, Page, calculator_uri, href
from baycalc import api
from baycalc.forms.declare import Calculator, Result
from baycalc.quantities.units import label

STANDINGS = {
    "published": "published",
    "memory": "from memory",
    "practice": "common practice, no source",
    "workshop": "from the workshop's own jobs",
}
"""How the standing of a source is written."""

_OPEN_SOURCES = 4


def calculator_pages() -> list[Page]:
    """Return the pages of all calculators, with the index by job."""
    declared = [api.describe(name) for name in api.names()]
    return [_index_page(declared), *(_page(calculator) for calculator in declared)]


def _page(calculator: Calculator) -> Page:
    uri = calculator_uri(calculator.id)
    text = html(
        "calculator.html.j2",
        declared=calculator,
        form=form_html(calculator, {}, uri),
        sources=sources_html(calculator.sources),
    )
    return Page(uri, calculator.title, text, ("Calculators",), contents=False)


def _index_page(declared: list[Calculator]) -> Page:
    jobs: dict[str, list[Calculator]] = {}
    for calculator in declared:
        jobs.setdefault(calculator.job, []).append(calculator)
    text = html("calculators.html.j2", jobs=sorted(jobs.items()))
    return Page(CALCULATORS_URI, "Calculators", text, ("Calculators",))


def sources_html(sources: Any) -> Markup:
    """Write a list of sources, each with its standing; a long one is folded."""
    found = Counter(source.standing for source in sources)
    counts = "; ".join(f"{found[each]} {word}" for each, word in STANDINGS.items() if found[each])
    return html(
        "sources.html.j2",
        sources=sources,
        standings=STANDINGS,
        folded=f"{len(sources)} sources: {counts}" if len(sources) > _OPEN_SOURCES else "",
    )


def form_html(
    calculator: Calculator,
    given: Mapping[str, str],
    page: str,
    prefix: str = "",
    *,
    answered: bool = True,
) -> Markup:
    """Write a calculator's form with the answer for the fields given, or for its defaults.

    Without ``answered`` the answer stays hidden until a script has computed one.

    Raises
    ------
    ValueError
        When the fields given are not accepted, or the defaults give no answer.
    """
    answer = api.run(calculator.id, given)
    if answer["errors"]:
        raise ValueError(f"calculator {calculator.id}: {answer['errors']}")
    return html(
        "form.html.j2",
        declared=calculator,
        prefix=prefix,
        answered=answered,
        groups=form_groups(calculator, given),
        example=answer["example"],
        headline=answer["headline"],
        conclusions=answer["conclusions"],
        address=href(calculator_uri(calculator.id), page) + _query(given),
        **_results(calculator, answer, page),
    )


def _query(given: Mapping[str, str]) -> str:
    return "?" + urlencode(given) if given else ""


def _results(calculator: Calculator, answer: Mapping[str, Any], page: str) -> dict[str, Any]:
    results = answer["results"]
    return {
        "verdicts": [
            _verdict(result, results.get(result.id))
            for result in calculator.results
            if result.kind == "verdict"
        ],
        "plain": [
            _plain(result, results.get(result.id))
            for result in calculator.results
            if result.kind != "verdict" and not result.table
        ],
        "tables": _tables(calculator, results),
        "drawing": Markup(answer["drawing"]),
        "notes": answer["notes"],
        "links": [
            link | {"href": href(calculator_uri(link["to"]), page) + _query(link["fields"])}
            for link in answer["links"]
        ],
    }


def _verdict(result: Result, value: Mapping[str, Any] | None) -> dict[str, Any]:
    empty = {"outcome": "", "us": "", "metric": "", "advice": ""}
    return empty | dict(value or {}) | {"id": result.id, "label": result.label}


def _plain(result: Result, value: Mapping[str, Any] | None) -> dict[str, Any]:
    shown = value or {"si": "", "us": "", "metric": ""}
    return {
        "id": result.id,
        "label": result.label,
        "help": result.help,
        "si": _as_script(shown["si"]),
        "pair": Pair(shown["us"], shown["metric"]),
        "absent": value is None,
    }


def _as_script(value: Any) -> str:
    """Write a value as the page's script does."""
    return str(value).lower() if isinstance(value, bool) else str(value)


def _tables(calculator: Calculator, results: Mapping[str, Any]) -> list[dict[str, Any]]:
    groups: dict[str, list[Result]] = {}
    for result in calculator.results:
        if result.table:
            groups.setdefault(result.table, []).append(result)
    return [
        {
            "results": [
                {"id": result.id, "label": result.label, "si": results[result.id]["si"]}
                for result in group
            ],
            "rows": [
                {
                    "unit": label(unit),
                    "place": place,
                    "cells": [
                        {"id": result.id, "text": results[result.id]["all"][place]}
                        for result in group
                    ],
                }
                for place, unit in enumerate(group[0].units)
            ],
        }
        for group in groups.values()
    ]
