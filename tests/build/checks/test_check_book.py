"""Wrong sources are told exactly, all at once, and never by a traceback."""

import graphlib
import shutil
from collections.abc import Mapping
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
import yaml
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from baybook.book.bound import bind
from baybook.book.car import CarProcedure
from baybook.book.checks.check_book import check_book
from baybook.book.checks.check_gauges import check_gauges
from baybook.book.checks.check_isolation import check_isolation
from baybook.book.checks.check_order import find_rings
from baybook.book.equipment import variants
from baybook.book.network import network
from baybook.book.sources.load import load_book
from baybook.cli import main
from baybook.pages.body import BodyWriter
from baycalc.forms.declare import Calculator
from baycalc.isolation.model.read_network import from_data

FOLDER = Path(__file__).parents[2] / "wrong_sources"
BASE = FOLDER / "base"
KINDS = sorted(path.name for path in FOLDER.iterdir() if path.is_dir() and path != BASE)


def write_sources(kind: str, to: Path) -> Path:
    """Write the base, with the files of a kind of mistake laid over it and its edits made."""
    shutil.copytree(BASE, to, dirs_exist_ok=True)
    overlay = FOLDER / kind / "sources"
    if overlay.exists():
        shutil.copytree(overlay, to, dirs_exist_ok=True)
    edits = FOLDER / kind / "edits.yml"
    if edits.exists():
        for name, changes in yaml.safe_load(edits.read_text("utf-8")).items():
            edit(to / name, changes)
    return to / "procedures"


def edit(path: Path, changes: Mapping[str, str]) -> None:
    text = path.read_text("utf-8")
    for old, new in changes.items():
        assert text.count(old) == 1, f"{path.name}: expected once: {old}"
        text = text.replace(old, new)
    path.write_text(text, "utf-8")


def test_the_base_is_valid(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "--strict", str(BASE / "procedures")]) == 0
    assert capsys.readouterr().out == "1 procedure, 1 vehicle: 0 errors, 0 warnings\n"


@pytest.mark.parametrize("kind", KINDS)
def test_wrong_sources(kind: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = write_sources(kind, tmp_path)
    code = main(["check", str(folder)])
    said = capsys.readouterr()
    assert said.out == (FOLDER / kind / "expected.txt").read_text("utf-8")
    assert said.err == ""
    assert code == (0 if " 0 errors," in said.out else 1)
    assert (main(["check", "--strict", str(folder)]) == 0) == (
        " 0 warnings" in said.out and not code
    )


def test_every_kind_of_mistake_says_something() -> None:
    clean = ": 0 errors, 0 warnings"
    assert [kind for kind in KINDS if clean in (FOLDER / kind / "expected.txt").read_text()] == []


@given(
    st.dictionaries(
        st.sampled_from("abcdefgh"), st.lists(st.sampled_from("abcdefgh"), max_size=3).map(tuple)
    )
)
def test_rings_are_found_where_no_order_exists(waits: dict[str, tuple[str, ...]]) -> None:
    rings = find_rings(waits)
    for ring in rings:
        for name, other in zip(ring, (*ring[1:], ring[0]), strict=True):
            assert other in waits[name]
    try:
        graphlib.TopologicalSorter(waits).prepare()
    except graphlib.CycleError:
        assert rings
    else:
        assert not rings


SOURCES = {
    name: (BASE / "procedures" / name).read_text("utf-8")
    for name in ("air.md", "vehicles/car.yml", "shared.yml")
}
SCRAPS = [
    *(
        "",
        "[]",
        "{}",
        "null",
        "no",
        "12",
        "-1",
        ".nan",
        "2026-01-01",
        "&a",
        "*a",
        "!x",
        "---",
        "\t",
    ),
    *(
        "20 inHg",
        "20 A",
        "pump",
        "hold",
        "P0410",
        "air-pump",
        "valve-vacuum",
        "{{",
        "}}",
        "{% if %}",
    ),
    *('{{ figure("x") }}', '{{ has("air-pump") }}', "## Tests {#tests}", "### x {#hold}", "```"),
    *("\x00", "\u2028", "\ufeff", "😀", ": ", "- ", "# "),
]


@st.composite
def mutated(draw: st.DrawFn) -> dict[str, str]:
    """Draw the sources of the base with some pieces dropped, doubled or put in place of others."""
    sources = dict(SOURCES)
    for _ in range(draw(st.integers(1, 4))):
        name = draw(st.sampled_from(sorted(sources)))
        text = sources[name]
        start = draw(st.integers(0, len(text)))
        end = min(len(text), start + draw(st.integers(0, 30)))
        scrap = draw(st.sampled_from([*SCRAPS, text[start:end] * 2]))
        sources[name] = text[:start] + scrap + text[end:]
    return sources


@st.composite
def mutated_words(draw: st.DrawFn) -> dict[str, str]:
    """Draw the sources of the base with one word or value put in place of another, everywhere."""
    sources = dict(SOURCES)
    name = draw(st.sampled_from(sorted(sources)))
    words = sorted(set(sources[name].replace("{", " ").replace("}", " ").split()))
    old = draw(st.sampled_from(words))
    new = draw(st.sampled_from([*words, *SCRAPS]))
    return sources | {name: sources[name].replace(old, new)}


@settings(deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(sources=st.one_of(mutated(), mutated_words()))
def test_no_source_causes_a_traceback(
    sources: dict[str, str], calculators: Mapping[str, Calculator]
) -> None:
    """Mutated sources are told with their line, or go through to what pages are made from."""
    with TemporaryDirectory() as folder:
        for name, text in sources.items():
            path = Path(folder) / name
            path.parent.mkdir(exist_ok=True)
            path.write_text(text, "utf-8")
        book = load_book(Path(folder))
        problems = check_book(book, calculators)
    if not any(problem.severity == "error" for problem in problems):
        problems += [*check_isolation(bind(book)), *check_gauges(bind(book), book.shared.tools)]
    assert all(problem.text.startswith("expected ") for problem in problems)
    assert all(0 <= each.line <= 1 + sources_lines(sources, each.file) for each in problems)
    if not any(problem.severity == "error" for problem in problems):
        for variant in variants(book):
            for vehicle in variant.cars:
                car = CarProcedure(variant.source, vehicle)
                from_data(network(car, labour_per_hour=60))
                for section in variant.source.sections:
                    if section.id not in variant.source.data.tests or section.id in car.tests:
                        BodyWriter(variant, car, book).write(section.text)


def sources_lines(sources: Mapping[str, str], file: str) -> int:
    return sources.get(file.split("/", 1)[-1], "").count("\n") + 1


def test_sources_that_cannot_be_read_blame_no_other_source(book_folder: Path) -> None:
    folder = book_folder / "procedures"
    (folder / "shared.yml").write_bytes(b"\xff")
    (folder / "vehicles" / "car.yml").write_bytes(b"\xff")
    (folder / "shared" / "battery-off.md").write_bytes(b"\xff")
    assert [str(problem).split(": ")[0] for problem in check_book(load_book(folder), {})] == [
        "procedures/shared.yml:1",
        "procedures/shared/battery-off.md:1",
        "procedures/vehicles/car.yml:1",
    ]
