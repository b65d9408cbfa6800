"""The plan of a procedure for one car: its cost, the first tests, a drawn tree, a nested list."""

import textwrap
from dataclasses import dataclass
from itertools import accumulate
from typing import Any

from markupsafe import Markup

from baybook.book.car import CarProcedure
from baybook.book.simulated import Simulated
from baybook.pages.render import PX_PER_REM, html
from baybook.pages.site import Settings

_LINE = 20
_GAP = 10
_DOT = 14
_INDENT = 20
_WIDTH = 760
_PIECE = 400
_LETTER = 8.1
_SHARE = 66

FAINT = 0.015
"""Share of cars below which the ends of a plan are put together in one line [-]."""

FIRST = 6
"""Tests that are named before the whole plan [-]."""


@dataclass(frozen=True, slots=True)
class Row:
    """One point of the plan as it is written and drawn."""

    depth: int
    outcome: str
    text: str
    kind: str
    target: str
    share: float
    parent: int


def plan_html(
    car: CarProcedure, plan: dict[str, Any], settings: Settings, simulated: Simulated | None
) -> Markup:
    """Write a plan for a page."""
    rows: list[Row] = []
    _add_rows(car, plan["tree"], "", 0, -1, rows)
    return html(
        "plan.html.j2",
        first=_first_tests(car, plan["tree"]),
        drawings=_drawings(rows),
        nested=_nested(rows),
        groups=[[car.fault_name(fault) for fault in group] for group in car.ambiguity_groups()],
        plan=plan["expected"],
        guess=plan["guess"],
        simulated=simulated,
        currency=settings.currency,
        points=len(rows),
        width=_WIDTH,
        natural=_WIDTH / PX_PER_REM,
    )


def _first_tests(car: CarProcedure, node: dict[str, Any] | None) -> list[dict[str, Any]]:
    """Return the tests that follow one another as long as each is good."""
    found: list[dict[str, Any]] = []
    while node and not node["end"] and node["kind"] == "test" and len(found) < FIRST:
        test = car.tests[node["id"]]
        found.append({"id": node["id"], "title": test.title, "minutes": test.minutes})
        good = [branch["node"] for branch in node["branches"] if branch["good"]]
        node = good[0] if good else None
    return found


def _nested(rows: list[Row]) -> Markup:
    """Write the points as lists inside lists."""
    below: dict[int, list[int]] = {}
    for at, row in enumerate(rows):
        below.setdefault(row.parent, []).append(at)

    def write(parent: int) -> Markup:
        items = [_item(rows[at]) + write(at) + Markup("</li>") for at in below.get(parent, [])]
        return Markup("<ul>{}</ul>").format(Markup("\n").join(items)) if items else Markup("")

    return write(-1)


def _item(row: Row) -> Markup:
    before = f"{row.outcome}: " if row.outcome else ""
    text = Markup('<a href="#{}">{}</a>').format(row.target, row.text) if row.target else row.text
    return Markup("<li>{}{}").format(before, text)


def _add_rows(
    car: CarProcedure, node: dict[str, Any], outcome: str, depth: int, parent: int, rows: list[Row]
) -> None:
    text, kind, target = _point(car, node)
    rows.append(Row(depth, outcome, text, kind, target, node["share"], parent))
    here = len(rows) - 1
    faint = [branch["node"] for branch in node["branches"] if _is_faint(branch["node"])]
    if len(faint) < 2:
        faint = []
    likely = [branch for branch in node["branches"] if branch["node"] not in faint]
    if _end_alike(car, likely):
        text, kind, target = _point(car, likely[0]["node"])
        outcome = "any likelier result" if faint else "any result"
        rows.append(Row(depth + 1, outcome, text, kind, target, _share(likely), here))
    else:
        for branch in likely:
            _add_rows(car, branch["node"], branch["text"], depth + 1, here, rows)
    if faint:
        text = f"{len(faint)} rarer results: go on with the panel"
        share = sum(below["share"] for below in faint)
        rows.append(Row(depth + 1, "", text, "rare", "", share, here))


def _end_alike(car: CarProcedure, branches: list[dict[str, Any]]) -> bool:
    """Tell whether several branches lead to one and the same end."""
    nodes = [branch["node"] for branch in branches]
    ends = {_point(car, node) for node in nodes}
    return len(nodes) > 1 and len(ends) == 1 and not any(node["branches"] for node in nodes)


def _share(branches: list[dict[str, Any]]) -> float:
    return float(sum(branch["node"]["share"] for branch in branches))


def _is_faint(node: dict[str, Any]) -> bool:
    """Tell whether a point is too rare for a line of its own."""
    return bool(node["end"] == "rare" and node["share"] < FAINT)


def _point(car: CarProcedure, node: dict[str, Any]) -> tuple[str, str, str]:
    if node["end"] == "proven":
        return "proven: the job is done", "proven", ""
    if node["end"] == "handed on":
        return "the job is handed on", "rare", ""
    if node["end"] == "rare":
        return _rare(car, node), "rare", ""
    kind, name = node["kind"], node["id"]
    if kind == "test":
        return car.tests[name].title, kind, name
    if kind == "repair":
        return f"repair: {car.fault_name(name)}", kind, car.faults[name].repair.section
    if kind == "outside":
        return "look outside this procedure", "repair", ""
    return node["title"], kind, "proof" if kind == "recheck" else ""


def _rare(car: CarProcedure, node: dict[str, Any]) -> str:
    named = [suspect["fault"] for suspect in node["suspects"] if suspect["fault"] in car.faults]
    if not named:
        return "few cars left: go on with the panel"
    fault = car.faults[named[0]]
    return f"few cars left, most likely: {car.parts[fault.part].name} {fault.says}"


def _drawings(rows: list[Row]) -> list[dict[str, Any]]:
    """Draw the tree in pieces, so that paper can break between them."""
    texts = [_wrapped(row) for row in rows]
    tops = [0.0, *accumulate(len(text) * _LINE + _GAP for text in texts)]
    pieces = []
    first = 0
    for last in range(1, len(rows) + 1):
        if last == len(rows) or tops[last] - tops[first] > _PIECE:
            pieces.append(_piece(rows, texts, tops, range(first, last)))
            first = last
    return pieces


def _wrapped(row: Row) -> list[str]:
    before = f"{row.outcome}: " if row.outcome else ""
    room = int((_WIDTH - 8 - row.depth * _INDENT - _SHARE) / _LETTER)
    return textwrap.wrap(before + row.text, room)


def _piece(
    rows: list[Row], texts: list[list[str]], tops: list[float], piece: range
) -> dict[str, Any]:
    start = tops[piece.start]
    return {
        "height": tops[piece.stop] - start,
        "lines": _lines(rows, tops, start, tops[piece.stop]),
        "points": [_drawn(rows[at], texts[at], tops[at] - start) for at in piece],
    }


def _lines(rows: list[Row], tops: list[float], start: float, stop: float) -> list[str]:
    """Return the lines from each point to those after it, cut to a piece of the drawing."""
    lines = []
    for at, row in enumerate(rows):
        if row.parent < 0:
            continue
        above, here = tops[row.parent] + _DOT + 5, tops[at] + _DOT
        if here < start or above > stop:
            continue
        x = 8 + rows[row.parent].depth * _INDENT
        line = f"M{x} {max(above, start) - start}V{min(here, stop) - start}"
        lines.append(line + (f"H{x + _INDENT - 4}" if here <= stop else ""))
    return list(dict.fromkeys(lines))


def _drawn(row: Row, text: list[str], top: float) -> dict[str, Any]:
    x = 8 + row.depth * _INDENT
    return {
        "x": x,
        "y": top + _DOT,
        "lines": [(line, top + _DOT + 5 + place * _LINE) for place, line in enumerate(text)],
        "share": f"{row.share * 100:.0f} %" if row.share >= 0.01 else "< 1 %",
        "kind": row.kind,
    }
