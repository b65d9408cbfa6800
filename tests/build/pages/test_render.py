"""How quantities and texts are written on pages."""

from baybook.book.dual_units import Pair
from baybook.pages.render import html, quantity_html


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
