"""Options of the plugin, and a navigation of one's own."""

import pytest

from baybook.pages.nav import expanded
from baybook.pages.site import SHEETS_URI, Page
from baybook.plugin_options import BaybookConfig


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (
            {"labor_per_hour": 70},
            "expected a known option of baybook, got labor_per_hour; did you mean labour_per_hour?",
        ),
        ({"labour_per_hour": "sixty"}, "expected a number from 0 to 10,000, got sixty"),
        ({"labour_per_hour": float("nan")}, "expected a number from 0 to 10,000, got nan"),
        ({"labour_per_hour": 1e308}, "expected a number from 0 to 10,000, got 1e+308"),
        ({"labour_per_hour": True}, "expected a number from 0 to 10,000, got True"),
        ({"currency": ""}, "expected a sign such as $ or EUR, got ''"),
    ],
)
def test_a_wrong_option_is_an_error(options: dict[str, object], said: str) -> None:
    config = BaybookConfig()
    config.load_dict(options)
    failed, warnings = config.validate()
    assert [str(error) for _, error in failed] == [said]
    assert warnings == []


def test_all_options_have_defaults() -> None:
    config = BaybookConfig()
    config.load_dict({})
    assert config.validate() == ([], [])
    assert (config.requires, config.safe, config.for_authors) == ("", False, True)


def test_a_navigation_of_ones_own_has_a_place_for_ours() -> None:
    pages = [Page(SHEETS_URI, "Bench sheets", ""), Page("procedures/index.md", "Procedures", "")]
    ours = [{"Procedures": "procedures/index.md"}, {"Bench sheets": SHEETS_URI}]
    assert expanded(["index.md", "baybook", {"About": "about.md"}], pages) == [
        "index.md",
        *ours,
        {"About": "about.md"},
    ]
    assert expanded([{"Book": ["baybook"]}], pages) == [{"Book": ours}]
    assert expanded(None, pages) == []
