"""Mutated sources through the check and, where they are clean, through the pages.

No source may raise, hang or take a great deal of memory: a mistake is a sentence.
"""

import contextlib
import random
import shutil
import signal
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path
from types import FrameType

from baybook.book.compiled import CompiledBook, compile_book
from baybook.pages.site import Settings
from baybook.pages.site_pages import every_page

BASE = Path(__file__).parents[1] / "wrong_sources" / "base" / "procedures"
LONGEST = 20
"""How long one mutant may take on a busy machine [s]; it takes a small part of a second."""

ODD = (
    "", " ", "~", "null", "[]", "{}", "{a: 1}", "[a, b]", "true", "-1", "1e308", "-1e308", ".nan",
    ".inf", "0", "9" * 400, "2026-11-26", "&a", "*a", "!!python/name:os.system", "!x y",
    '"\\ud83d\\ude00"', '"\\0"', '"\\u202e"', "'", '"', "|", ">", "@", "`", "%", "# x", "- - - a",
    "__proto__", "index", "../../etc", "a" * 6000, "[" * 3000, "{" * 3000, "(" * 3000, "> " * 3000,
    "20 inHg", "20 lightyears", "-300 C", "valve-vacuum", "pump", "hold", "P0410", "P9999",
    "{{", "{{ x }}", "{{ 1/0 }}", "{{ vehicle }}", "{{ vehicle.figures }}", '{{ figure("x") }}',
    "{% if %}", "{% for a in vehicle.has %}{{ a }}{% endfor %}", "{{ 'a' * 99999999 }}",
    "{{ ''.__class__ }}", "{% set x = [1] %}", "<script>x()</script>", "<div", "](javascript:x())",
    "!!! danger", "### X {#x}", "## Tests {#tests}", "```", "~~~", "---", "\t", "\x00", "\ufeff",
)  # fmt: skip
"""What is put in the place of a word or between two lines."""

Mutation = Callable[[random.Random, list[str]], None]


def _replace_word(dice: random.Random, lines: list[str]) -> None:
    number = dice.randrange(len(lines))
    words = lines[number].split(" ")
    words[dice.randrange(len(words))] = dice.choice(ODD)
    lines[number] = " ".join(words)


def _replace_value(dice: random.Random, lines: list[str]) -> None:
    number = dice.randrange(len(lines))
    name, colon, _ = lines[number].partition(": ")
    if colon:
        lines[number] = f"{name}: {dice.choice(ODD)}"


def _delete(dice: random.Random, lines: list[str]) -> None:
    first = dice.randrange(len(lines))
    del lines[first : first + dice.randint(1, 4)]


def _insert(dice: random.Random, lines: list[str]) -> None:
    indent = " " * dice.choice((0, 2, 4, 6, 8))
    lines.insert(dice.randrange(len(lines) + 1), indent + dice.choice(ODD))


def _repeat(dice: random.Random, lines: list[str]) -> None:
    first = dice.randrange(len(lines))
    piece = lines[first : first + dice.randint(1, 8)]
    lines[first:first] = piece * dice.choice((1, 1, 2, 200))


def _swap(dice: random.Random, lines: list[str]) -> None:
    one, other = dice.randrange(len(lines)), dice.randrange(len(lines))
    lines[one], lines[other] = lines[other], lines[one]


def _indent(dice: random.Random, lines: list[str]) -> None:
    number = dice.randrange(len(lines))
    lines[number] = " " * dice.choice((1, 2, 4, 300)) + lines[number].lstrip()


MUTATIONS: tuple[Mutation, ...] = (
    _replace_word, _replace_word, _replace_value, _replace_value, _delete, _insert, _repeat, _swap,
    _indent,
)  # fmt: skip


def fuzz_sources(count: int, seed: int) -> tuple[list[str], int]:
    """Return what went wrong for a number of mutants, and how many were clean.

    A mutant that is clean goes through the pages too.
    """
    dice = random.Random(seed)
    found: list[str] = []
    clean = 0
    with tempfile.TemporaryDirectory() as name:
        folder, cache = Path(name) / "procedures", Path(name) / "cache"
        for number in range(count):
            shutil.rmtree(folder, ignore_errors=True)
            shutil.copytree(BASE, folder)
            changed = _mutate(dice, folder)
            problem, book = _checked(folder)
            if book and not book.errors:
                clean += 1
                problem = _rendered(book, cache)
            if problem:
                found.append(f"mutant {number} of seed {seed}: {problem}\n{changed}")
    return found, clean


def _mutate(dice: random.Random, folder: Path) -> str:
    path = dice.choice(sorted(path for path in folder.rglob("*.*") if path.is_file()))
    lines = path.read_text("utf-8").split("\n")
    for _ in range(dice.choice((1, 1, 1, 2, 3))):
        if lines:
            dice.choice(MUTATIONS)(dice, lines)
    text = "\n".join(lines)
    path.write_text(text, "utf-8", errors="surrogatepass")
    return f"{path.name}:\n{text[:20_000]}"


def _checked(folder: Path) -> tuple[str, CompiledBook | None]:
    try:
        with _limit():
            return "", compile_book(folder)
    except BaseException as problem:
        return _told("check", problem), None


def _rendered(book: CompiledBook, cache: Path) -> str:
    try:
        with _limit():
            pages = every_page(book, Settings(for_authors=False), cache, [])
            return "" if all(page.source() for page in pages) else "pages: an empty page"
    except BaseException as problem:
        return _told("pages", problem)


def _told(where: str, problem: BaseException) -> str:
    if isinstance(problem, KeyboardInterrupt):
        raise problem
    return f"{where}: {type(problem).__name__}: {str(problem)[:300]}"


class TooLong(BaseException):
    """A mutant took too long."""


@contextlib.contextmanager
def _limit() -> Iterator[None]:
    def stop(_signal: int, _frame: FrameType | None) -> None:
        raise TooLong(f"more than {LONGEST} s")

    before = signal.signal(signal.SIGALRM, stop)
    signal.alarm(LONGEST)
    try:
        yield
    finally:
        signal.alarm(0)
        signal.signal(signal.SIGALRM, before)
