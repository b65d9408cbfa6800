"""One grammar of quantities: what the check accepts is written on every page."""

import re
from collections.abc import Mapping
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from baybook.book.bound import bind
from baybook.book.checks.check_book import check_book
from baybook.book.compiled import CompiledBook
from baybook.book.equipment import variants
from baybook.book.figure_texts import Pair, pair
from baybook.book.pint_quantities import KINDS, kinds_of, unit_table, unit_table_data
from baybook.book.simulated import SimulatedBook
from baybook.book.sources.load import load_book
from baybook.book.sources.problems import BadSources
from baybook.pages.procedure import procedure_pages
from baybook.pages.site import Settings
from baycalc.forms.declare import Calculator

UNITS = sorted(
    {
        spelling
        for kind in unit_table_data().values()
        for symbol, row in kind["units"].items()
        for spelling in (symbol, *row.get("spellings", ()))
    }
)
BASE = Path(__file__).parents[1] / "wrong_sources" / "base" / "procedures"

whole = st.integers(0, 99999).map(str)
decimal = st.decimals(0, 9999, places=2).map(str)
comma = decimal.map(lambda text: text.replace(".", ","))
fraction = st.builds("{}/{}".format, st.integers(0, 20), st.integers(1, 64))
mixed = st.builds("{} {}".format, st.integers(1, 40), fraction)
vulgar = st.builds("{}{}".format, st.sampled_from(["", "1", "2 "]), st.sampled_from("½¼¾⅛⅜⅝⅞"))
exponent = st.builds("{}e{}".format, st.integers(1, 99), st.integers(-4, 6))
clock = st.builds("{}:{:02}".format, st.integers(0, 90), st.integers(0, 59))
gauge = st.builds("AWG {}".format, st.integers(0, 30)) | st.sampled_from(["2/0", "#10", "AWG 4/0"])
number = st.builds(
    "{}{}".format,
    st.sampled_from(["", "-", "−", "+"]),
    whole | decimal | comma | fraction | mixed | vulgar | exponent,
)
space = st.sampled_from(["", " ", "\u00a0", "\u202f", "  "])
quantity_texts = (
    st.builds("{}{}{}".format, number, space, st.sampled_from(UNITS) | st.just(""))
    | gauge
    | clock
    | st.text("0123456789/ .,-½inbarpsiohm\"'µΩ", max_size=12)
)


@pytest.mark.parametrize(
    ("text", "written"),
    [
        ("1/2 in", Pair("1/2 in", "12.7 mm")),
        ("1 1/2 in", Pair("1 1/2 in", "38.1 mm")),
        ("½ in", Pair("½ in", "12.7 mm")),
        ("1/2 psi", Pair("1/2 psi", "3.45 kPa")),
        ('3/8 "', Pair("3/8 in", "9.52 mm")),
        ("3,5 bar", Pair("51 psi", "3.5 bar")),
        ("12,345.6 ohm", Pair("12345.6 Ω", "12345.6 Ω")),
        ("1:30", Pair("90 s", "90 s")),
        ("15 lb-ft", Pair("15 lbf ft", "20 N m")),
        ("15 ft-lbs", Pair("15 lbf ft", "20 N m")),
        ("80 in-lb", Pair("80 lbf in", "9.0 N m")),
        ("20 N·m", Pair("177 lbf in", "20 N m")),
    ],
)
def test_ways_in_which_the_trade_writes_a_number(text: str, written: Pair) -> None:
    """25.4 mm, 1.355818 N m, 0.1129848 N m, 6.894757 kPa: NIST SP 811:2008, Appendix B.8."""
    assert pair(text) == written


@given(quantity_texts)
def test_what_is_a_quantity_can_be_written_and_read_again(text: str) -> None:
    for kind in kinds_of(text):
        si = unit_table().parse(kind, text)
        both = pair(text, kind)
        for written in (both.us, both.metric):
            again = unit_table().parse(kind, re.sub(r" \(AWG \d+\)$", "", written))
            # Two digits, and a wire gauge is whole: one of them is 12 % of a diameter, 26 % of it.
            close = 0.3 if "AWG" in written else 0.06
            offset = 300 if kind == "temperature" else 0
            assert again + offset == pytest.approx(si + offset, rel=close, abs=1e-12)


@pytest.fixture(scope="module")
def cache(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Keeps the plan of the small book, which quantities do not change."""
    return tmp_path_factory.mktemp("cache")


PLACES = {
    "limit: {figure: valve-vacuum}": "limit: {at-most: '%s'}",
    "at-least: 18 inHg": "at-least: '%s'",
    "value: 4 mm": "value: '%s'",
    "span: 30 inHg": "span: '%s'",
}


@settings(deadline=None, suppress_health_check=[HealthCheck.too_slow], max_examples=60)
@given(text=quantity_texts, place=st.sampled_from([*PLACES, "body"]))
def test_a_book_without_errors_can_be_built(
    text: str, place: str, cache: Path, calculators: Mapping[str, Calculator]
) -> None:
    with TemporaryDirectory() as name:
        folder = Path(name) / "procedures"
        for path in sorted(BASE.rglob("*.*")):
            written = path.read_text("utf-8")
            if place in PLACES:
                written = written.replace(place, PLACES[place] % text.replace("'", "''"))
            elif path.name == "air.md":
                escaped = text.replace('"', '\\"')
                written = written.replace(
                    "## Proving the repair",
                    f'{{{{ quantity("{escaped}") }}}}\n\n## Proving the repair',
                )
            goal = folder / path.relative_to(BASE)
            goal.parent.mkdir(parents=True, exist_ok=True)
            goal.write_text(written, "utf-8")
        book = load_book(folder)
        problems = check_book(book, calculators)
    if any(problem.severity == "error" for problem in problems):
        assert all(str(problem) for problem in problems)
        return
    bound, pages = tuple(bind(book)), tuple(variants(book))
    compiled = CompiledBook(book, tuple(problems), bound, SimulatedBook(), pages)
    procedure_pages(compiled, Settings(), cache)


def test_the_places_are_there() -> None:
    text = "".join(path.read_text("utf-8") for path in sorted(BASE.rglob("*.*")))
    assert all(place in text for place in PLACES)
    assert "## Proving the repair" in text
    assert set(KINDS) == set(unit_table_data())


def test_what_stops_a_page_names_its_place(
    cache: Path, calculators: Mapping[str, Calculator], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Should the check ever let something through, the author is told where it stands."""
    assert calculators
    book = load_book(BASE)

    def refuse(*_: object) -> None:
        raise ValueError("no unit")

    pages = tuple(variants(book))
    compiled = CompiledBook(book, (), tuple(bind(book)), SimulatedBook(), pages)
    monkeypatch.setattr("baybook.pages.body.fill_in", refuse)
    with pytest.raises(
        BadSources, match=r"procedures/air\.md:\d+: expected what a page .* no unit"
    ):
        procedure_pages(compiled, Settings(), cache)
    monkeypatch.undo()
    monkeypatch.setattr("baybook.pages.test_section.gauge_si", refuse)
    with pytest.raises(BadSources, match=r"procedures/air\.md:26: tests\.hold: expected what"):
        procedure_pages(compiled, Settings(), cache)
