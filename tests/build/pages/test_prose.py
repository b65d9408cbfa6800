"""An author's Markdown as HTML."""

from baybook.pages.prose import Prose, plain_prose


def test_what_an_author_may_write_becomes_html() -> None:
    written = plain_prose().write('!!! danger "Gas"\n    It kills.\n\n1. One\n2. Two\n')
    assert '<div class="admonition danger">' in written
    assert "<li>Two</li>" in written


def test_a_link_to_a_file_leads_to_its_page_and_an_outer_link_stays() -> None:
    text = "[a](../about.md#x) [b](https://example.org/x.md) [c](y.md?q=1) `z.md`"
    written = plain_prose().write(text)
    assert 'href="../about.html#x"' in written
    assert 'href="https://example.org/x.md"' in written
    assert 'href="y.html?q=1"' in written
    assert "<code>z.md</code>" in written


def test_the_extensions_are_those_of_the_book() -> None:
    assert "<table>" not in Prose(()).write("|a|\n|-|\n|b|\n")
    assert "<table>" in plain_prose().write("|a|\n|-|\n|b|\n")
