"""A message right before a step: the numbers go on, and its signal word stays."""

import pytest

from baybook.book.prose.step_messages import messages_in_steps
from baybook.pages.prose import plain_prose

BETWEEN = """\
1. Start the engine.

!!! warning "Vapor"
    Gasoline can catch fire.

    Work outdoors.

2. Open the cap.
3. Listen.
"""


def html(text: str) -> str:
    return str(plain_prose().write(messages_in_steps(text)))


def test_the_numbers_go_on() -> None:
    written = html(BETWEEN)
    assert written.count("<ol") == 1
    assert written.count("<li>") == 3
    assert '<p class="admonition-title">WARNING: Vapor</p>' in written
    assert written.index("Start the engine") < written.index("WARNING") < written.index("Open")


@pytest.mark.parametrize("word", ["danger", "warning", "caution", "notice"])
@pytest.mark.parametrize("indent", ["", "    "])
def test_the_signal_word_stays_at_any_depth(word: str, indent: str) -> None:
    text = f'1. One.\n\n{indent}!!! {word} "Hot"\n{indent}    Hot parts.\n\n2. Two.\n'
    written = html(text)
    assert f'<p class="admonition-title">{word.upper()}: Hot</p>' in written
    assert written.count("<ol") == 1


def test_a_message_without_a_title_has_its_signal_word() -> None:
    assert messages_in_steps("!!! notice\n    Keep it.") == '!!! notice "NOTICE"\n    Keep it.'


def test_a_message_outside_a_list_stays_where_it_is() -> None:
    before = '!!! danger "Gas"\n    Poison.\n\n1. One.\n'
    assert messages_in_steps(before) == before.replace('"Gas"', '"DANGER: Gas"')
    after = '1. One.\n\n!!! danger "Gas"\n    Poison.\n\nText.\n'
    assert messages_in_steps(after) == after.replace('"Gas"', '"DANGER: Gas"')
    apart = '1. One.\n\nText.\n\n!!! danger "Gas"\n    Poison.\n\n1. Two.\n'
    assert messages_in_steps(apart) == apart.replace('"Gas"', '"DANGER: Gas"')


def test_other_text_stays_as_it_is() -> None:
    text = "A.\n\n- b\n\n    c\n\n1. d\n2. e\n"
    assert messages_in_steps(text) == text
