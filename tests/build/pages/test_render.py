"""How quantities and texts are written on pages."""

import pytest

from baybook.book.figure_texts import Pair
from baybook.pages.render import environment, html, quantity_html


@pytest.mark.parametrize(
    ("minutes", "text"), [(49.3073, "49 min"), (2.5, "2.5 min"), (59.6, "1 h"), (75, "1 h 15 min")]
)
def test_minutes_of_work_in_templates(minutes: float, text: str) -> None:
    written = environment().from_string("{{ m | minutes }}").render(m=minutes)
    assert written.replace("\u00a0", " ") == text


def test_a_quantity_carries_both_writings() -> None:
    assert quantity_html(Pair("20 inHg", "68 kPa")) == (
        '<span class="quantity" data-us="20 inHg" data-metric="68 kPa">20 inHg (68 kPa)</span>'
    )
    assert quantity_html(Pair("7.5 A", "7.5 A")) == '<span class="quantity">7.5 A</span>'


def test_what_an_author_writes_cannot_become_markup() -> None:
    assert "&lt;b&gt;" in quantity_html(Pair("<b>", '"'))
    message = {"signal": "danger", "hazard": "<b>", "result": "&", "avoid": '"'}
    written = html("safety.html.j2", messages=[message])
    assert '<p class="hazard">&lt;b&gt;</p><p>&amp;</p><p>&#34;</p>' in written
