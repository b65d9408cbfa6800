"""The navigation: home, the parts in their order, then what the author wrote besides."""

from baybook.pages.nav import in_navigation, navigation
from baybook.pages.site import Page


def page(uri: str, title: str, *trail: str) -> Page:
    return Page(uri, title, "", trail)


PAGES = [
    page("bench-sheets.md", "Bench sheets", "Bench sheets"),
    page("calculators/index.md", "Calculators", "Calculators"),
    page("calculators/fuse.md", "Fuse", "Calculators"),
    page("procedures/index.md", "Procedures", "Procedures"),
    page("procedures/air/index.md", "Air", "Procedures", "Air"),
    page("procedures/air/car.md", "A car", "Procedures", "Air"),
    page("procedures/egr/index.md", "EGR", "Procedures", "EGR"),
]


def test_home_then_the_landing_pages_in_their_order() -> None:
    assert navigation(PAGES, ["index.md", "about.md"]) == [
        {"Home": "index.md"},
        {"Procedures": "procedures/index.md"},
        {"Calculators": "calculators/index.md"},
        {"Bench sheets": "bench-sheets.md"},
        "about.md",
    ]


def test_pages_below_a_landing_page_are_not_listed() -> None:
    listed = {page.uri for page in PAGES if in_navigation(page)}
    assert listed == {"bench-sheets.md", "calculators/index.md", "procedures/index.md"}


def test_pages_that_were_written_for_authors_stand_in_their_part() -> None:
    assert navigation([], ["authors/plan.md", "notes.md"]) == [
        {"For authors": ["authors/plan.md"]},
        "notes.md",
    ]


def test_a_book_without_a_home_page() -> None:
    assert navigation([], []) == []


def test_the_part_for_authors_is_listed_whole() -> None:
    pages = [
        page("authors/index.md", "For authors", "For authors"),
        page("authors/fields/index.md", "Fields", "For authors", "Fields"),
        page("authors/fields/test.md", "Test", "For authors", "Fields"),
    ]
    fields = ["authors/fields/index.md", {"Test": "authors/fields/test.md"}]
    assert navigation(pages, []) == [{"For authors": ["authors/index.md", {"Fields": fields}]}]
    assert all(in_navigation(each) for each in pages)
