"""Texts of authors: what they may do, and that there is an end to what they may cost."""

import time
from types import SimpleNamespace

import jinja2
import pytest

from baybook.book.prose.budget import LONGEST, TooMuch
from baybook.book.prose.environment import environment, fill_in
from baybook.book.prose.template_words import Wrong, parse, wrong_words

VEHICLE = SimpleNamespace(figures={"a": 1, "b": 2}, has=("x", "y"))
WORDS = {"vehicle": VEHICLE, "figure": lambda name: f"<{name}>", "shared": str}


@pytest.mark.parametrize(
    ("text", "filled"),
    [
        ('{{ figure("a") }}', "<a>"),
        ("{{ 1 + 2 * 3 // 2 }}", "4"),
        ("{{ 'a' ~ 1 ~ 'b' }}", "a1b"),
        ("{% for name in vehicle.has %}{{ name|upper }}{% endfor %}", "XY"),
        (
            "{% for name, value in vehicle.figures.items() %}{{ name }}{{ value }}{% endfor %}",
            "a1b2",
        ),
        ("{% for unit in ['V', 'A'] %}{{ loop.index }}{{ unit }}{% endfor %}", "1V2A"),
        ("{{ ['a', 'b']|join(', ') }}", "a, b"),
        ("{{ 'vacuum'|replace('u', 'o') }}", "vacoom"),
        ("{{ 'vacuum'[1:3] }}", "ac"),
        ("{{ 2.345|round(1) }}", "2.3"),
        ("{{ 'a\nb'|indent(2) }}", "a\n  b"),
        ("{{ vehicle.has|map('upper')|list|length }}", "2"),
        ("{{ vehicle.figures.get('a') }}", "1"),
        ("{% if 'x' in vehicle.has %}yes{% else %}no{% endif %}", "yes"),
    ],
)
def test_what_texts_do(text: str, filled: str) -> None:
    tree = parse(text)
    assert not isinstance(tree, Wrong)
    assert list(wrong_words(tree)) == []
    assert fill_in(text, WORDS) == filled


DOUBLED = "{% set x = 'abcdefgh' %}" + "{% set x = x ~ x %}" * 40
ADDED = "{% set x = 'abcdefgh' %}" + "{% set x = x + x %}" * 40
SQUARED = "{% set x = 9 %}" + "{% set x = x * x %}" * 40
LOOPS = "{% for a in t %}{% for b in t %}{% for c in t %}x{% endfor %}{% endfor %}{% endfor %}"
TEXT = "t" * 1000


@pytest.mark.parametrize(
    "text",
    [
        DOUBLED,
        ADDED,
        SQUARED,
        "{{ 10 ** 10 ** 10 }}",
        f"{{% set t = '{TEXT}' %}}{LOOPS}",
        f"{{% set t = '{TEXT}' %}}{{% for a in t %}}{{{{ shared('{TEXT}') }}}}{{% endfor %}}",
        f"{{{{ '{TEXT}'|replace('t', '{TEXT}')|replace('t', '{TEXT}') }}}}",
        f"{{{{ '{TEXT}'|list|join('{TEXT}') }}}}",
        f"{{{{ '{TEXT}'|list|map('replace', 't', '{TEXT}')|join }}}}",
        "{{ 1.5|round(1000000000, 'floor') }}",
        "{{ 'a\nb'|indent(1000000000) }}",
        f"{{% set t = '{TEXT}' %}}{{% for a in t %}}{{{{ (t ~ t ~ t)[1:] }}}}{{% endfor %}}",
    ],
)
def test_what_costs_too_much_ends(text: str) -> None:
    began = time.process_time()
    with pytest.raises((TooMuch, jinja2.TemplateError)):
        fill_in(text, WORDS)
    assert time.process_time() - began < 10  # by steps counted, not by time: far below


@pytest.mark.parametrize(
    "text",
    [
        "{{ vehicle.figures.clear() }}",
        '{% set x = vehicle.figures.update({"a": 5}) %}',
        "{{ 'a' * 5000000 }}",
        "{{ '%1000000000d' % 1 }}",
        "{{ 'a'.ljust(1000000000) }}",
        "{{ '{:1000000000}'.format(1) }}",
        "{{ ''.__class__.__mro__ }}",
        "{{ figure.__globals__ }}",
    ],
)
def test_what_is_refused(text: str) -> None:
    with pytest.raises((jinja2.TemplateError, TypeError)):
        fill_in(text, WORDS)
    assert VEHICLE.figures == {"a": 1, "b": 2}


@pytest.mark.parametrize("name", ["random", "center", "format", "wordwrap", "tojson"])
def test_filters_that_draw_lots_or_fill_up_are_unknown(name: str) -> None:
    tree = parse(f"{{{{ 'a'|{name} }}}}")
    assert not isinstance(tree, Wrong)
    assert [wrong.text for wrong in wrong_words(tree)] == [
        f"expected a filter of Jinja, got {name}"
    ]
    assert name not in environment().filters


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (
            "{{ " + "(" * 3000,
            "expected at most 60 brackets or conditions inside one another, got more",
        ),
        ("\n{{ 1" + " + 1" * 100 + " }}", "expected at most 60 brackets"),
        ("{% if 1 %}" * 100 + "{% endif %}" * 100, "expected at most 60 brackets"),
        ("{{ 1 }}" * 5000, "expected at most 5000 pieces of a template, got more"),
        (f"{{{{ '{'a' * 2001}' }}}}", "expected at most 2000 letters between quotes, got 2001"),
        ("{% macro m() %}{{ m() }}{% endmacro %}", "expected no macro, got one"),
        ("{% for a in b recursive %}{% endfor %}", "expected no recursive loop, got one"),
        ("{% set a = [b, b] %}", "expected plain values in a list, got an expression"),
    ],
)
def test_shapes_that_are_refused(text: str, said: str) -> None:
    wrong = parse(text)
    assert isinstance(wrong, Wrong)
    assert wrong.text.startswith(said)


def test_a_text_inside_another_one_counts_with_it() -> None:
    piece = "{{ '" + "x" * 2000 + "' }}" * 1

    def shared(_: str) -> str:
        return fill_in(piece, WORDS)

    many = "{{ shared('a') }}" * 30
    assert len(fill_in(many, {"shared": shared})) == 60_000
    with pytest.raises(TooMuch):
        fill_in("{{ shared('a') }}" * 200, {"shared": shared})


def test_one_value_has_an_end_too() -> None:
    with pytest.raises(TooMuch, match="a value has 50,001 letters; 50,000 are the most"):
        fill_in("{{ shared('a') }}", {"shared": lambda _: "x" * (LONGEST + 1)})
