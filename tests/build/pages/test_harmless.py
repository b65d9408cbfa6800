"""Contributed texts: what is drawn stays, what is live goes."""

import pytest

from baybook.pages.prose import plain_prose, safe_prose

LIVE = [
    "<script>alert(1)</script>",
    '<img src="x" onerror="alert(1)">',
    "[x](javascript:alert(1))",
    "[x](data:text/html,x)",
    "<iframe src='https://example.org'></iframe>",
    '<div style="background: url(//example.org)">a</div>',
    "![x](a.png){: onerror=alert(1) }",
    "<svg onload=alert(1)></svg>",
    "<!-- --!><img src=x onerror=alert(1)>",
    "<form action=//example.org><input></form>",
    "<style>@import url(//example.org)</style>",
]


@pytest.mark.parametrize("text", LIVE)
def test_nothing_live_is_left(text: str) -> None:
    written = str(safe_prose().write(text))
    for word in ("script", "onerror", "onload", "data:", "iframe", "style", "<form", "<svg"):
        assert word not in written.replace("alert(1)", ""), written


def test_what_is_drawn_stays() -> None:
    text = (
        '1. **One** `x`\n\n    !!! warning "Hot"\n        Hot.\n\n2. Two\n\n'
        '| a | b |\n| --- | --- |\n| 1 | 2 |\n\n<span class="figure" data-figure="k">[x]</span>\n\n'
        '<details><summary>More</summary>x</details>\n\n<figure class="picture"><b '
        'class="picture-mark" style="left:20%;top:30%">1</b></figure>\n'
    )
    assert str(safe_prose().write(text)).split() == str(plain_prose().write(text)).split()
