"""Addresses, and a page as it goes to MkDocs."""

import pytest
import yaml

from baybook.pages.site import Page, calculator_uri, href, procedure_uri, quoted, relative


def test_addresses_of_generated_pages() -> None:
    assert procedure_uri("air") == "procedures/air/index.md"
    assert procedure_uri("air", "work") == "procedures/air/work.md"
    assert calculator_uri("fuse") == "calculators/fuse.md"


@pytest.mark.parametrize(
    ("target", "page", "seen"),
    [
        ("calculators/fuse.md", "procedures/air/car.md", "../../calculators/fuse.md"),
        ("calculators/fuse.md", "calculators/gauge.md", "fuse.md"),
        ("calculators/fuse.md", "index.md", "calculators/fuse.md"),
        ("index.md", "vehicles/car.md", "../index.md"),
    ],
)
def test_an_address_as_seen_from_a_page(target: str, page: str, seen: str) -> None:
    assert relative(target, page) == seen
    assert href(target, page) == seen.replace(".md", ".html")


def test_a_query_stays_behind_a_link_in_html() -> None:
    assert href("procedures/air/index.md?code=P0411", "index.md") == (
        "procedures/air/index.html?code=P0411"
    )


@pytest.mark.parametrize("title", ['A "B": C', "back\\slash", "# no comment", "{brace}", "é ″"])
def test_a_title_is_read_back_as_it_is(title: str) -> None:
    assert yaml.safe_load(quoted(title)) == title
    source = Page("a.md", title, "# Text\n").source()
    assert yaml.safe_load(source.split("---\n")[1]) == {"title": title}
    assert source.endswith("---\n\n# Text\n")


def test_what_the_theme_and_the_search_are_told() -> None:
    page = Page("a.md", "A", "", search=False, contents=False)
    assert yaml.safe_load(page.source().split("---\n")[1]) == {
        "title": "A",
        "search": {"exclude": True},
        "hide": ["toc"],
    }
    wide = Page("a.md", "A", "", wide=True)
    assert yaml.safe_load(wide.source().split("---\n")[1]) == {
        "title": "A",
        "hide": ["navigation", "toc"],
    }
