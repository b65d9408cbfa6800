"""The wording of steps: what is warned of, and what may stand.

Rules: ASD-STE100, sentences of procedures, from memory; words: common practice, no source.
"""

from pathlib import Path

import pytest

from baybook.book.checks.check_wording import check_wording, trade_words
from baybook.book.sources.load import Book
from baybook.cli import main

BASE = Path(__file__).parents[2] / "wrong_sources/base/procedures"


def warned(text: str) -> list[tuple[int, str]]:
    book = Book(shared_texts={"piece": text}, shared_text_files={"piece": "shared/piece.md"})
    return [(each.line, each.text) for each in check_wording(book)]


TWENTY = "Hold " + "the " * 18 + "hose."


@pytest.mark.parametrize(
    "text",
    [
        f"1. {TWENTY}",
        "The pump rests. It was tested, and read, and it was long in the making of this line here.",
        "1. Pull the plug. Read the gauge.",
        "1. Take connector and hose off.",
        "1. Compare part number and plug.",
        '1. Hold {{ quantity("2500 rpm") }}. Read {{ figure("pump-current") }} (of the clamp).',
        "1. The meter must read and hold.",
        "{% if has('x') %}1. Read it.{% endif %}",
        '2. See {{ where("control-unit-memory-fuse") }}.',
    ],
)
def test_what_may_stand(text: str) -> None:
    assert warned(text) == []


@pytest.mark.parametrize(
    ("text", "line", "said"),
    [
        (
            f"\n1. {TWENTY[:-1]} too.",
            2,
            "expected at most 20 words in a sentence of a step, got 21",
        ),
        (
            "1. Pull the plug and read the gauge.",
            1,
            "expected one action in a sentence, got a second one: read",
        ),
        (
            "  3. Key off. Take it out, then measure the coil.",
            1,
            "expected one action in a sentence, got a second one: measure",
        ),
        ("Watch the Check engine lamp.", 1, "expected a word of the trade, got Check engine lamp"),
    ],
)
def test_what_is_warned_of(text: str, line: int, said: str) -> None:
    assert warned(text) == [(line, said)]


def test_the_hint_says_the_word_of_the_trade() -> None:
    book = Book(shared_texts={"a": "A colour."}, shared_text_files={"a": "shared/a.md"})
    assert [str(each) for each in check_wording(book)] == [
        "shared/a.md:1: warning: expected a word of the trade, got colour\n    hint: write color"
    ]


def test_no_word_is_replaced_by_one_that_is_replaced() -> None:
    for better in trade_words().values():
        assert not set(better.split()) & set(trade_words())


def test_the_command_says_it_and_keeps_still(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    piece = tmp_path / "shared/rest.md"
    for path in BASE.rglob("*"):
        if path.is_file():
            to = tmp_path / path.relative_to(BASE)
            to.parent.mkdir(parents=True, exist_ok=True)
            to.write_bytes(path.read_bytes())
    piece.parent.mkdir(exist_ok=True)
    piece.write_text("1. Pull the plug and read the gauge.\n", encoding="utf-8")
    assert main(["check", str(tmp_path)]) == 0
    assert "shared/rest.md:1: warning: expected one action" in capsys.readouterr().out
    assert main(["check", "--no-wording", str(tmp_path)]) == 0
    assert "expected one action" not in capsys.readouterr().out
