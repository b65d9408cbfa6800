"""The plan on a page: the drawn tree and the list say the same, and nothing is cut."""

from dataclasses import replace
from typing import Any
from xml.etree import ElementTree

import pytest
from msgspec import structs

from baybook.book.car import CarProcedure
from baybook.book.network import network
from baybook.pages.plan import FAINT, FIRST, plan_html
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
    markup = str(plan_html(car, plan, Settings(), None)).replace("&nbsp;", " ")
    return ElementTree.fromstring(markup)


def drawn(page: ElementTree.Element) -> list[str]:
    """Return each drawn point: its text and its share."""
    return [
        " ".join(text.text or "" for text in point.findall("text"))
        for point in page.findall(".//g")
    ]


def listed(page: ElementTree.Element) -> list[str]:
    """Return each point of the list, without those below it."""
    found = []
    for item in page.findall(".//details[@class='plan-list']//li"):
        link = item.find("a")
        found.append((item.text or "").strip() + (f" {link.text}" if link is not None else ""))
    return [text.strip() for text in found]


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
    "Hold",
    "Vacuum after one minute: out of limits: repair: valve leaks",
    "done: Prove the repair",
    "fixed: proven: the job is done",
    "all good: Runs",
    "Does the pump run? No: few cars left, most likely: pump dead",
    "2 rarer results: go on with the panel",
]
SHARES = ["100 %", "40 %", "40 %", "40 %", "60 %", "59 %", "1 %"]


def test_the_drawing_holds_every_point_with_its_share(car: CarProcedure, tree: Json) -> None:
    expected = [f"{point} {share}" for point, share in zip(POINTS, SHARES, strict=True)]
    assert drawn(written(car, tree)) == expected


def test_the_list_says_the_same_and_leads_to_the_sections(car: CarProcedure, tree: Json) -> None:
    page = written(car, tree)
    assert listed(page) == POINTS
    links = [link.attrib["href"] for link in page.findall(".//details[@class='plan-list']//a")]
    assert links == ["#hold", "#fit-valve", "#proof", "#runs"]


def test_results_that_are_too_rare_share_one_line(car: CarProcedure, tree: Json) -> None:
    runs = tree["branches"][1]["node"]
    runs["branches"][2]["node"]["share"] = 2 * FAINT
    assert "few cars left: go on with the panel" in " ".join(drawn(written(car, tree)))
    assert "rarer results" not in " ".join(drawn(written(car, tree)))


def both_done(tree: Json) -> list[Json]:
    """Make every likely result of the second test prove the job; return its branches."""
    branches: list[Json] = tree["branches"][1]["node"]["branches"]
    branches[0]["node"] = end("proven", 0.4)
    branches[1]["node"] = end("proven", 0.196)
    return branches


def test_results_that_end_alike_share_one_line(car: CarProcedure, tree: Json) -> None:
    branches = both_done(tree)
    branches[2]["node"] = end("proven", 0.004)
    page = written(car, tree)
    assert drawn(page)[5:] == ["any result: proven: the job is done 60 %"]
    assert listed(page)[5:] == ["any result: proven: the job is done"]


def test_rarer_results_keep_their_line_beside_those_that_end_alike(
    car: CarProcedure, tree: Json
) -> None:
    branches = both_done(tree)
    branches[2]["node"] = end("rare", 0.002)
    branches.append(branch(end("rare", 0.002), seen("runs", "normal")))
    assert drawn(written(car, tree))[5:] == [
        "any likelier result: proven: the job is done 60 %",
        "2 rarer results: go on with the panel < 1 %",
    ]


def test_results_that_end_in_different_ways_stay_apart(car: CarProcedure, tree: Json) -> None:
    both_done(tree)  # the third one is rare
    assert len(drawn(written(car, tree))[5:]) == 3


def test_the_first_tests_stand_in_sight_as_long_as_all_is_good(
    car: CarProcedure, tree: Json
) -> None:
    page = written(car, tree)
    places = page.findall("ol[@class='plan-first']/li")
    assert [" ".join("".join(each.itertext()).split()) for each in places] == [
        "Hold 5 min",
        "Runs 2 min",
    ]
    assert [link.attrib["href"] for link in page.findall("ol//a")] == ["#hold", "#runs"]


def test_no_more_than_six_first_tests_are_named(car: CarProcedure, tree: Json) -> None:
    for _ in range(9):
        tree = step("test", "hold", 1.0, branch(tree, seen("hold", "normal")))
    assert len(written(car, tree).findall("ol/li")) == FIRST


def test_a_plan_that_starts_with_a_repair_names_no_first_test(
    car: CarProcedure, tree: Json
) -> None:
    repair = tree["branches"][0]["node"]
    assert written(car, repair).find("ol") is None


def test_the_whole_plan_is_folded_and_says_how_long_it_is(car: CarProcedure, tree: Json) -> None:
    folded = {each.attrib["class"]: each for each in written(car, tree).findall("details")}
    assert {name: each.findtext("summary") for name, each in folded.items()} == {
        "plan-whole": "The whole plan, drawn: 7 points",
        "plan-list": "The whole plan as a list: 7 points",
    }
    assert all("open" not in each.attrib for each in folded.values())
    assert folded["plan-whole"].find(".//svg") is not None


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
    text = " ".join(written(car, tree).itertext())
    assert "Expected before any code is read: 1 h 15 min and $118 with parts" in text
    assert "would take 2 h 20 min and $301 on average" in text


def test_no_text_is_cut_or_leaves_the_drawing(car: CarProcedure, tree: Json) -> None:
    """The letters of the font are at most 8.1 units wide on average: measured on screen."""
    deep = tree
    for _ in range(12):
        deep = step("test", "runs", 1.0, branch(deep, seen("runs", "abnormal")))
    page = written(car, deep)
    for text in page.findall(".//g/text"):
        if text.attrib.get("class") != "plan-share":
            assert float(text.attrib["x"]) + 8.1 * len(text.text or "") < 760 - 50
    assert len(drawn(page)) == len(listed(page)) == 12 + len(POINTS)


def test_a_drawing_has_its_own_width(car: CarProcedure, tree: Json) -> None:
    """A rem is 20 px in the theme (125 % of the browser's 16 px), from memory."""
    for piece in written(car, tree).findall(".//svg"):
        assert piece.attrib["style"] == "--natural: 38.0rem"
        assert float(piece.attrib["viewBox"].split()[2]) == 38 * 20


def test_a_long_plan_is_drawn_in_pieces_that_meet(car: CarProcedure, tree: Json) -> None:
    long = step("test", "hold", 1.0, *[branch(tree, seen("hold", "abnormal"))] * 12)
    page = written(car, long)
    pieces = page.findall(".//svg")
    assert len(pieces) > 2
    for piece in pieces:
        height = float(piece.attrib["viewBox"].split()[3])
        assert height < 400 + 50  # one point of two lines may stand across the edge
        for text in piece.findall("g/text"):
            assert 0 < float(text.attrib["y"]) < height
    assert len(drawn(page)) == 1 + 12 * len(POINTS)


def test_the_plan_of_the_small_book_is_whole(car: CarProcedure) -> None:
    plan = isolation.plan(network(car, 60))
    page = ElementTree.fromstring(
        str(plan_html(car, plan, Settings(currency="€"), None)).replace("&nbsp;", " ")
    )
    assert drawn(page)[0].endswith("100 %")
    assert len(drawn(page)) == len(listed(page)) > 4
    assert "€" in "".join(page.itertext())
