"""The navigation: home, the parts in their order, then what the author wrote besides."""

from baybook.pages.nav import navigation
from baybook.pages.site import Page


def page(uri: str, title: str, *trail: str) -> Page:
    return Page(uri, title, "", trail)


PAGES = [
    page("bench-sheets.md", "Bench sheets", "Bench sheets"),
    page("calculators/index.md", "Calculators", "Calculators"),
    page("calculators/fuse.md", "Fuse", "Calculators"),
    page("procedures/air/index.md", "Air", "Procedures", "Air"),
    page("procedures/air/car.md", "A car", "Procedures", "Air"),
    page("procedures/egr/index.md", "EGR", "Procedures", "EGR"),
]


def test_home_then_the_parts_in_their_order() -> None:
    assert navigation(PAGES, ["index.md", "about.md"]) == [
        {"Home": "index.md"},
        {
            "Procedures": [
                {"Air": ["procedures/air/index.md", {"A car": "procedures/air/car.md"}]},
                {"EGR": ["procedures/egr/index.md"]},
            ]
        },
        {"Calculators": ["calculators/index.md", {"Fuse": "calculators/fuse.md"}]},
        {"Bench sheets": [{"Bench sheets": "bench-sheets.md"}]},
        "about.md",
    ]


def test_pages_that_were_written_for_authors_stand_in_their_part() -> None:
    assert navigation([], ["authors/plan.md", "notes.md"]) == [
        {"For authors": ["authors/plan.md"]},
        "notes.md",
    ]


def test_a_book_without_a_home_page() -> None:
    assert navigation([], []) == []


def test_two_procedures_of_one_title_do_not_lose_a_page() -> None:
    twins = [page(f"procedures/{name}/index.md", "Air", "Procedures", "Air") for name in "ab"]
    assert navigation(twins, []) == [
        {"Procedures": [{"Air": ["procedures/a/index.md", "procedures/b/index.md"]}]}
    ]
