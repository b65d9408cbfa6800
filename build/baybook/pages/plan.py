"""The plan of a procedure: its cost, the usual way as a strip, the whole plan as a tree."""

from dataclasses import dataclass
from typing import Any

from markupsafe import Markup

from baybook.book.car import CarProcedure
from baybook.book.learned import LearnedFrom
from baybook.book.simulated import Simulated
from baybook.pages.render import html
from baybook.pages.site import Settings
from baycalc.isolation.model.bayes_net import LARGEST
from baycalc.text import capital

FAINT = 0.015
"""Share of cars below which the ends of a plan are put together in one line [-]."""

STOPS = 10
"""Most tests of the usual way; a sheet of paper holds so many with their branches [-]."""

BRANCHES = 4
"""Most ways by which cars leave a test of the usual way that are named [-]."""

_THICKEST = 11.0
"""Width of the line of the usual way where all cars pass [px]."""


@dataclass(frozen=True, slots=True)
class Row:
    """One point of the plan as it is written."""

    depth: int
    outcome: str
    text: str
    kind: str
    target: str
    share: float
    parent: int


def plan_html(
    car: CarProcedure,
    plan: dict[str, Any],
    settings: Settings,
    simulated: Simulated | None,
    learned: LearnedFrom | None,
    tree_file: str,
) -> Markup:
    """Write a plan for a page; the whole tree lies in a file that is read when it is opened."""
    return html(
        "plan.html.j2",
        stops=_stops(car, plan["tree"]),
        groups=[[car.fault_name(fault) for fault in group] for group in car.ambiguity_groups()],
        plan=plan["expected"],
        guess=plan["guess"],
        simulated=simulated,
        learned=learned,
        currency=settings.currency,
        points=len(_rows(car, plan)),
        most_faults=LARGEST,
        tree_file=tree_file,
    )


def tree_html(car: CarProcedure, plan: dict[str, Any]) -> Markup:
    """Write the whole plan as lists inside lists, each point with its share and its link."""
    return _nested(_rows(car, plan))


def _rows(car: CarProcedure, plan: dict[str, Any]) -> list[Row]:
    rows: list[Row] = []
    _add_rows(car, _past_the_opening(plan["tree"]), "", 0, -1, rows)
    return rows


def _past_the_opening(node: dict[str, Any]) -> dict[str, Any]:
    """Return the first point behind the opening steps, which have a section of their own."""
    while node.get("kind") == "opening" and len(node["branches"]) == 1:
        node = node["branches"][0]["node"]
    return node


def _stops(car: CarProcedure, node: dict[str, Any] | None) -> list[dict[str, Any]]:
    """Return the usual way: the tests that follow one another as long as each is good."""
    found: list[dict[str, Any]] = []
    node = _past_the_opening(node) if node else None
    while node and not node["end"] and node["kind"] == "test" and len(found) < STOPS:
        good = [branch["node"] for branch in node["branches"] if branch["good"]]
        left = [branch for branch in node["branches"] if not branch["good"]]
        test = car.tests[node["id"]]
        found.append(
            {
                "id": node["id"],
                "title": test.title,
                "minutes": test.minutes,
                "share": in_hundred(node["share"]),
                "stem": round(max(2.0, _THICKEST * node["share"]), 1),
                "leaving": in_hundred(_share(left)),
                "branches": _branches(car, left),
            }
        )
        node = good[0] if good else None
    return found


def _branches(car: CarProcedure, left: list[dict[str, Any]]) -> list[dict[str, str]]:
    """Return the ways by which cars leave a test, likeliest first, with what comes then."""
    likely = sorted(left, key=lambda branch: -branch["node"]["share"])
    rows = []
    for branch in likely[:BRANCHES]:
        text, _, target = _point(car, branch["node"])
        outcome = branch["text"]
        share = in_hundred(branch["node"]["share"])
        rows.append({"share": share, "outcome": outcome, "then": text, "target": target})
    if len(likely) > BRANCHES:
        rest = in_hundred(_share(likely[BRANCHES:]))
        several = {"share": rest, "outcome": "rarer or several results at once", "target": ""}
        rows.append(several | {"then": "take them from the top, the likeliest first"})
    return rows


def in_hundred(share: float) -> str:
    """Write a share of cars as how many of a hundred; a few are never written as none."""
    return f"{100 * share:.0f}" if share >= 0.005 or share == 0 else "under 1"


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
    before = f"{capital(row.outcome)}: " if row.outcome else ""
    text = Markup('<a href="#{}">{}</a>').format(row.target, row.text) if row.target else row.text
    share = Markup('<b class="plan-share">{}</b>').format(in_hundred(row.share))
    return Markup('<li class="plan-{}">{} {}{}').format(row.kind, share, before, text)


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
