"""The plan on a page: the usual way as a strip, and the whole as a tree."""

from dataclasses import replace
from datetime import date
from typing import Any
from xml.etree import ElementTree

import pytest
from msgspec import structs

from baybook.book.car import CarProcedure
from baybook.book.learned import LearnedFrom
from baybook.book.network import network
from baybook.pages.plan import BRANCHES, FAINT, STOPS, plan_html, tree_html
from baybook.pages.site import Settings
from baycalc import isolation

Json = dict[str, Any]

COST = {"minutes": 75.0, "money": 118.4}
GUESS = {"minutes": 140.0, "money": 301.0}


def end(kind: str, share: float, fault: str = "") -> Json:
    suspects = [{"fault": fault, "share": 1.0}] if fault else []
    return {"end": kind, "share": share, "branches": [], "suspects": suspects}


def step(kind: str, name: str, share: float, *branches: Json, title: str = "") -> Json:
    return {
        "end": "",
        "kind": kind,
        "id": name,
        "title": title or name,
        "share": share,
        "branches": list(branches),
        "suspects": [],
    }


def branch(node: Json, *events: Json) -> Json:
    """A way that an action turns out, worded as the engine does."""
    text = "; ".join(event["text"] for event in events if event["text"]) or "all good"
    return {"node": node, "text": text, "good": text == "all good", "chance": 1.0}


def said(text: str) -> Json:
    return {"text": text}


def seen(test: str, result: str) -> Json:
    asked = {"runs": "Does the pump run? No", "hold": "Vacuum after one minute: out of limits"}
    return {"text": asked[test] if result == "abnormal" else ""}


def written(car: CarProcedure, tree: Json) -> ElementTree.Element:
    plan = {"tree": tree, "expected": COST, "guess": GUESS}
    markup = str(plan_html(car, plan, Settings(), None, None, "a.plan.js")).replace("&nbsp;", " ")
    return ElementTree.fromstring(markup)


def whole(car: CarProcedure, tree: Json) -> ElementTree.Element:
    return ElementTree.fromstring(str(tree_html(car, {"tree": tree})))


def own_text(item: ElementTree.Element) -> str:
    """Return the text of a point of the tree, without those below it."""
    parts = [item.text]
    for each in item:
        parts += [each.text if each.tag != "ul" else "", each.tail]
    return " ".join(" ".join(part or "" for part in parts).split())


def drawn(page: ElementTree.Element) -> list[str]:
    """Return each point of the tree, in order, its share in front."""
    return [own_text(item) for item in page.iter("li")]


@pytest.fixture
def tree() -> Json:
    """A hold, then by its result a repair with its proof, or the sound of the pump."""
    proof = step("recheck", "", 0.4, branch(end("proven", 0.4), said("fixed")))
    proof["title"] = "Prove the repair"
    repair = step("repair", "valve-leaks", 0.4, branch(proof, said("done")))
    repair["title"] = "valve leaks"
    runs = step(
        "test",
        "runs",
        0.6,
        branch(end("rare", 0.59, "pump-dead"), seen("runs", "abnormal")),
        branch(end("rare", 0.006), seen("runs", "normal")),
        branch(end("rare", 0.004), seen("runs", "normal")),
    )
    return step(
        "test",
        "hold",
        1.0,
        branch(repair, seen("hold", "abnormal")),
        branch(runs, seen("hold", "normal")),
    )


POINTS = [
    "100 Hold",
    "40 Vacuum after one minute: out of limits: repair: valve leaks",
    "40 Done: Prove the repair",
    "40 Fixed: proven: the job is done",
    "60 All good: Runs",
    "59 Does the pump run? No: few cars left, most likely: pump dead",
    "1 2 rarer results: go on with the panel",
]


def test_the_tree_holds_every_point_with_its_share_and_its_link(
    car: CarProcedure, tree: Json
) -> None:
    page = whole(car, tree)
    assert drawn(page) == POINTS
    links = [link.attrib["href"] for link in page.iter("a")]
    assert links == ["#hold", "#fit-valve", "#proof", "#runs"]


def test_the_opening_steps_stand_elsewhere(car: CarProcedure, tree: Json) -> None:
    opened = step("opening", "battery", 1.0, branch(tree, said("done")))
    assert drawn(whole(car, opened)) == POINTS
    assert len(written(car, opened).findall("ol[@class='strip']/li")) == 2


def test_results_that_are_too_rare_share_one_line(car: CarProcedure, tree: Json) -> None:
    runs = tree["branches"][1]["node"]
    runs["branches"][2]["node"]["share"] = 2 * FAINT
    assert "few cars left: go on with the panel" in " ".join(drawn(whole(car, tree)))
    assert "rarer results" not in " ".join(drawn(whole(car, tree)))


def both_done(tree: Json) -> list[Json]:
    """Make every likely result of the second test prove the job; return its branches."""
    branches: list[Json] = tree["branches"][1]["node"]["branches"]
    branches[0]["node"] = end("proven", 0.4)
    branches[1]["node"] = end("proven", 0.196)
    return branches


def test_results_that_end_alike_share_one_line(car: CarProcedure, tree: Json) -> None:
    branches = both_done(tree)
    branches[2]["node"] = end("proven", 0.004)
    assert drawn(whole(car, tree))[5:] == ["60 Any result: proven: the job is done"]


def test_rarer_results_keep_their_line_beside_those_that_end_alike(
    car: CarProcedure, tree: Json
) -> None:
    branches = both_done(tree)
    branches[2]["node"] = end("rare", 0.002)
    branches.append(branch(end("rare", 0.002), seen("runs", "normal")))
    assert drawn(whole(car, tree))[5:] == [
        "60 Any likelier result: proven: the job is done",
        "under 1 2 rarer results: go on with the panel",
    ]


def test_results_that_end_in_different_ways_stay_apart(car: CarProcedure, tree: Json) -> None:
    both_done(tree)  # the third one is rare
    assert len(drawn(whole(car, tree))[5:]) == 3


def test_the_usual_way_is_a_strip_of_tests_with_time_and_share(
    car: CarProcedure, tree: Json
) -> None:
    stops = written(car, tree).findall("ol[@class='strip']/li/div")
    assert [" ".join("".join(each.itertext()).split()) for each in stops] == [
        "Hold 5 min 100 of 100 cars come here",
        "Runs 2 min 60 of 100 cars come here",
    ]


def test_where_cars_leave_it_says_how_many_why_and_what_then(car: CarProcedure, tree: Json) -> None:
    hold, runs = written(car, tree).findall("ol[@class='strip']/li/details")
    assert hold.findtext("summary") == "40 in 100 leave here: what then"
    (left,) = hold.findall("ul/li")
    words = " ".join("".join(left.itertext()).split())
    assert words == "40 Vacuum after one minute: out of limits → repair: valve leaks"
    assert [link.attrib["href"] for link in left.iter("a")] == ["#fit-valve"]
    assert "Does the pump run? No" in "".join(runs.itertext())


def test_the_line_is_as_thick_as_the_share_of_cars(car: CarProcedure, tree: Json) -> None:
    stops = written(car, tree).findall("ol[@class='strip']/li")
    assert [stop.attrib["style"] for stop in stops] == ["--stem: 11.0px", "--stem: 6.6px"]


def test_the_strip_is_short_and_so_are_its_branches(car: CarProcedure, tree: Json) -> None:
    for _ in range(15):
        tree = step("test", "hold", 1.0, branch(tree, seen("hold", "normal")))
    assert len(written(car, tree).findall("ol/li")) == STOPS
    many = [branch(end("rare", 0.1), seen("hold", "abnormal")) for _ in range(8)]
    (left,) = written(car, step("test", "hold", 1.0, *many)).findall("ol/li/details/ul")
    assert len(left) == BRANCHES + 1
    assert left[-1].findtext("b") == "40"  # the four that are not named


def test_a_plan_that_starts_with_a_repair_has_no_strip(car: CarProcedure, tree: Json) -> None:
    repair = tree["branches"][0]["node"]
    assert written(car, repair).find("ol") is None


def test_the_whole_plan_is_read_when_it_is_opened(car: CarProcedure, tree: Json) -> None:
    (folded,) = written(car, tree).findall("details")
    assert folded.findtext("summary") == "The whole plan as a tree: 7 points"
    assert folded.attrib["data-tree"] == "a.plan.js"
    assert folded.find(".//li") is None


def test_faults_that_no_test_tells_apart_are_named(car: CarProcedure, tree: Json) -> None:
    assert "apart" not in " ".join(written(car, tree).itertext())
    groups = (("valve-leaks", "pump-dead"),)
    data = structs.replace(car.source.data, ambiguity_groups=groups)
    grouped = CarProcedure(replace(car.source, data=data), car.vehicle)
    assert (
        "No test tells these faults apart: valve leaks; pump dead. Try their repairs one after the "
        "other, the cheaper one first, and prove each."
    ) in " ".join(written(grouped, tree).itertext())


def test_the_costs_stand_above_the_plan(car: CarProcedure, tree: Json) -> None:
    text = " ".join(written(car, tree).itertext()).replace("\u00a0", " ")
    assert "Expected before any code is read: 1 h 15 min and $118 with parts" in text
    assert "Parts by guess, likeliest and cheapest first: 2 h 20 min and $301" in text


def test_the_plan_of_the_small_book_is_whole(car: CarProcedure) -> None:
    plan = isolation.plan(network(car, 60))
    text = str(plan_html(car, plan, Settings(currency="€"), None, None, "a.plan.js"))
    page = ElementTree.fromstring(text.replace("&nbsp;", " "))
    points = drawn(ElementTree.fromstring(str(tree_html(car, plan))))
    assert points[0].startswith("100 ")
    assert page.findtext("details/summary") == f"The whole plan as a tree: {len(points)} points"
    assert "€" in "".join(page.itertext())


def test_what_the_plan_assumes_stands_with_it(car: CarProcedure, tree: Json) -> None:
    (box,) = list(written(car, tree).iter("aside"))
    said = " ".join("".join(box.itertext()).split())
    assert said.startswith("What this plan assumes. Faults come independently of each other")
    assert "At most 3 are there at once." in said


def test_it_says_whose_chances_they_are(car: CarProcedure) -> None:
    def assumed(learned: LearnedFrom | None) -> str:
        plan = isolation.plan(network(car, 60), rare=0.04)
        text = str(plan_html(car, plan, Settings(), None, learned, "tree.json"))
        return text[text.index("What this plan assumes.") :]

    assert "are the author's for the typical car, not measured on yours" in assumed(None)
    said = assumed(LearnedFrom(41, date(2026, 11, 26)))
    assert "brought nearer to what 41 closed jobs of this workshop showed" in said
    assert "November 26, 2026" in said or "26 November 2026" in said or "2026-11-26" in said
