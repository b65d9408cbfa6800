"""The table of contents of a page of HTML."""

from baybook.pages.contents import contents
from baybook.pages.render import heading


def test_headings_are_listed_below_one_another_by_their_words() -> None:
    page = heading(2, "a", "First") + heading(3, "b", "Second & third") + heading(2, "c", "Last")
    found = contents(page)
    assert [(entry["id"], entry["name"]) for entry in found] == [("a", "First"), ("c", "Last")]
    assert [entry["name"] for entry in found[0]["children"]] == ["Second & third"]
    assert [entry["level"] for entry in found] == [2, 2]


def test_a_heading_without_a_place_is_not_listed() -> None:
    assert contents("<h1>Title</h1><h2>Job</h2>") == []
