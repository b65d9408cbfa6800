"""How a calculator describes itself: inputs, results, sources, all as data."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace

from baycalc.measurement.decision import Verdict

Value = float | str | bool | Verdict | None
"""A result: an SI number, a text, yes or no, a verdict, or nothing to say."""


class Refusal(ValueError):
    """Inputs that a calculator cannot work with, each with one sentence.

    Parameters
    ----------
    problems : Mapping[str, str]
        Sentence by the id of the input that must change; without the input's name in front.
    """

    def __init__(self, problems: Mapping[str, str]) -> None:
        super().__init__("; ".join(f"{name}: {text}" for name, text in problems.items()))
        self.problems = dict(problems)


def refuse(**problems: str | bool) -> None:
    """Refuse the inputs that have a sentence; where ``False`` stands, all is well.

    Parameters
    ----------
    **problems : str or bool
        Condition and sentence by input: ``hot=hot <= cool and "Must be warmer than the other."``

    Raises
    ------
    Refusal
        With all sentences there are.
    """
    found = {name: text for name, text in problems.items() if isinstance(text, str)}
    if found:
        raise Refusal(found)


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """An input that is shown only while a choice has one of some values."""

    choice: str
    values: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Quantity:
    """A measured or known quantity that is typed in; ``group`` is one of ``groups.GROUPS``.

    ``units`` are those offered, US first, then metric. ``default``, ``low`` and ``high`` are
    texts such as ``20 inHg``; an input that is ``optional``, or whose default is ``None``, may
    stay empty and reaches the calculation as ``None``.
    """

    id: str
    label: str
    kind: str
    units: tuple[str, ...]
    default: str | None
    low: str | None = None
    high: str | None = None
    optional: bool = False
    help: str = ""
    group: str = "measured"
    shown: Shown | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Option:
    """One value of a choice."""

    value: str
    label: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """One of several options; reaches the calculation as the option's value."""

    id: str
    label: str
    options: tuple[Option, ...]
    default: str
    help: str = ""
    group: str = "measured"
    shown: Shown | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Flag:
    """Yes or no; reaches the calculation as a bool."""

    id: str
    label: str
    default: bool = False
    help: str = ""
    group: str = "measured"
    shown: Shown | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Text:
    """Free text with a meaning of its own, such as bytes in hex."""

    id: str
    label: str
    default: str
    help: str = ""
    longest: int = 200
    group: str = "measured"
    shown: Shown | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordInput(Text):
    """A curve as text: a file of columns, or typed pairs; reaches the calculation as it is."""

    longest: int = 8_000_000


Input = Quantity | Choice | Flag | Text


@dataclass(frozen=True, slots=True, kw_only=True)
class Result:
    """One result. ``kind`` is a kind of quantity, or ``text``, ``flag`` or ``verdict``.

    ``units`` holds the US and the metric unit first; with ``table`` set, the result is
    shown in all of them, as a column of the table of that name. ``outcomes`` makes a text or
    a yes or no a conclusion: the outcome by its value. A verdict is one by itself, unless
    ``aside`` says that it is not.
    """

    id: str
    label: str
    kind: str
    units: tuple[str, ...] = ()
    digits: int = 4
    help: str = ""
    table: str = ""
    outcomes: Mapping[str, str] = field(default_factory=dict)
    aside: bool = False

    def says(self, help: str) -> "Result":
        """Return the same result with its help."""
        return replace(self, help=help)

    def concludes(self, outcomes: Mapping[str, str]) -> "Result":
        """Return the same result as a conclusion, with the outcome of each of its values."""
        return replace(self, outcomes=outcomes)


@dataclass(frozen=True, slots=True)
class Note:
    """A remark on an answer; ``signal`` is empty or a signal word of ANSI Z535."""

    text: str
    signal: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What a calculation gives: SI values by result id, remarks, and a drawing (SVG text).

    A remark without a signal word may be a plain text. ``steps`` holds, by result id, the
    smallest difference that must not be rounded away [SI].
    """

    values: Mapping[str, Value]
    notes: tuple[Note | str, ...] = ()
    drawing: str = ""
    steps: Mapping[str, float] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class HandOver:
    """A link that carries figures to another calculator.

    ``carries`` maps the other one's input id to an input or result id of this one; ``sets``
    gives its choices.
    """

    to: str
    label: str
    carries: Mapping[str, str]
    sets: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """Where a figure or formula comes from; ``standing`` is published, memory or practice."""

    text: str
    standing: str = "published"


@dataclass(frozen=True, slots=True, kw_only=True)
class Calculator:
    """A whole calculator as data; ``compute`` takes the inputs by id and gives an `Answer`.

    ``job`` is the group on the index page; ``words`` what people type to find it; ``meaning``
    and ``leaves_out`` are short paragraphs (Markdown) for the bay.
    """

    id: str
    title: str
    summary: str
    job: str
    inputs: tuple[Input, ...]
    results: tuple[Result, ...]
    compute: Callable[..., Answer]
    meaning: str
    leaves_out: str
    sources: tuple[Source, ...]
    words: tuple[str, ...] = ()
    hands_over: tuple[HandOver, ...] = ()
