"""What the field finds: a table of what people type with what they want to see first."""

import json
import subprocess
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from tests.build.pages.search_rows import TYPED

from baybook.book.compiled import CompiledBook
from baybook.book.pint_quantities import unit_table_data
from baybook.pages.indexes import index_pages
from baybook.pages.search import search_files
from baybook.pages.site import Page
from baybook.runtime import build_runtime
from baybook.runtime.node import find_node

ROOT = Path(__file__).parents[3]
QUERY = ROOT / "build" / "baybook" / "assets" / "scripts" / "search-query.js"

ASK = """
import { SearchIndex } from %s;
import { readFileSync } from "node:fs";
const { shards, engine, typed, car } = JSON.parse(readFileSync(0, "utf8"));
const module = { exports: {} };
new Function("module", "exports", engine)(module, module.exports);
const index = new SearchIndex(module.exports, shards.first);
index.add(shards.parts.entries);
const serves = (procedure) => car.includes(procedure);
console.log(JSON.stringify(typed.map((text) => index.find(text, serves))));
"""


def data_of(text: str) -> Any:
    return json.loads(text.partition("(")[2].removesuffix(");\n"))


@pytest.fixture(scope="session")
def shards(demo_book: CompiledBook) -> dict[str, Any]:
    pages = index_pages(demo_book.sources)
    files = search_files(demo_book, pages)
    return {path.split("/")[-1].removesuffix(".js"): data_of(files[path]) for path in files}


@pytest.fixture(scope="session")
def engine(tmp_path_factory: pytest.TempPathFactory) -> str:
    cache = ROOT / ".cache" / "baybook"
    units = json.dumps(unit_table_data())
    made = build_runtime(tmp_path_factory.mktemp("shipped"), cache, units, progress=lambda _: None)
    return made.libraries["minisearch"]


def ask(shards: Any, engine: str, typed: list[str], car: tuple[str, ...] = ()) -> list[Any]:
    given = json.dumps({"shards": shards, "engine": engine, "typed": typed, "car": car})
    script = ASK % json.dumps(QUERY.as_uri())
    node = find_node().node
    command = [str(node), "--input-type=module", "--no-warnings", "-e", script]
    said = subprocess.run(command, input=given, capture_output=True, text=True, check=True)
    found: list[Any] = json.loads(said.stdout)
    return found


def first_hit(found: dict[str, Any]) -> str:
    if found["strange"]:
        return "strange"
    if not found["groups"]:
        return "nothing"
    group = found["groups"][0]
    hit = group["entries"][0]
    return str(hit["procedure"] if group["kind"] == "procedure" else _named(hit["entry"]))


def _named(entry: dict[str, Any]) -> str:
    return f"{entry['k']} {entry['t']}"


def first_procedure(found: dict[str, Any]) -> str:
    groups = [group for group in found["groups"] if group["kind"] == "procedure"]
    return str(groups[0]["entries"][0]["procedure"]) if groups else ""


@pytest.fixture(scope="session")
def answers(shards: dict[str, Any], engine: str) -> dict[str, Any]:
    typed = [text for text, _ in TYPED]
    return dict(zip(typed, ask(shards, engine, typed), strict=True))


def test_the_table_is_long_enough() -> None:
    assert len({text for text, _ in TYPED}) >= 101


@pytest.mark.parametrize(("typed", "wanted"), TYPED, ids=[text for text, _ in TYPED])
def test_the_first_hit_is_the_wanted_one(
    answers: dict[str, Any], typed: str, wanted: str | tuple[str, ...]
) -> None:
    assert first_hit(answers[typed]) in ((wanted,) if isinstance(wanted, str) else wanted)


def test_the_procedure_of_the_chosen_car_stands_first(shards: dict[str, Any], engine: str) -> None:
    for car in ("secondary-air-belt", "secondary-air-vacuum-valve"):
        (found,) = ask(shards, engine, ["P0411"], (car,))
        assert first_procedure(found) == car
        assert found["codes"] == ["P0411"]


def test_the_rarest_word_must_match(answers: dict[str, Any]) -> None:
    (group, *_) = answers["relay coil resistance"]["groups"]
    assert [entry["entry"]["t"] for entry in group["entries"]] == ["Relay coil"]


def test_a_word_that_is_nowhere_is_named(shards: dict[str, Any], engine: str) -> None:
    (found,) = ask(shards, engine, ["xyzzy valve"])
    assert found["unknown"] == ["xyzzy"]


def entries_of(shards: dict[str, Any]) -> Iterator[dict[str, Any]]:
    for name in ("first", "parts"):
        yield from shards[name]["entries"]


def test_no_entry_stands_twice(shards: dict[str, Any]) -> None:
    found = [json.dumps(entry, sort_keys=True) for entry in entries_of(shards)]
    assert len(found) == len(set(found)) > 500


def test_every_place_of_a_procedure_is_there(
    shards: dict[str, Any], demo_book: CompiledBook
) -> None:
    for entry in entries_of(shards):
        if "h" in entry:
            source = demo_book.sources.procedures[entry["p"]]
            assert source.section(entry["h"]), entry


def test_a_code_that_is_unknown_is_told_by_its_signs(shards: dict[str, Any]) -> None:
    """SAE J2012: the second sign says whose code it is, the third which system."""
    shapes = shards["codes"]["shapes"]
    said = shapes["sentences"][shapes["prefixes"]["P14"]]
    assert "auxiliary emission controls" in said
    assert len(shapes["prefixes"]) == 4 * 4 * 16
    assert "secondary-air-belt" in shards["first"]["groups"]["P4"]


def test_the_text_of_the_pages_is_read_in_shards(demo_book: CompiledBook) -> None:
    def page(name: str, words: str) -> Page:
        from markupsafe import Markup

        text = Markup(f'<h2 id="a">One<a class="headerlink">¶</a></h2><p>{words}</p>')
        return Page(f"notes/{name}.md", name, text, ("Notes",))

    files = search_files(demo_book, [page(str(at), "word " * 50_000) for at in range(4)])
    shards = {name: data_of(text) for name, text in files.items() if "/text-" in name}
    assert len(shards) == 4
    (entry, *_) = shards["assets/search/text-0.js"]["entries"]
    assert (entry["t"], entry["h"], entry["of"]) == ("One", "a", "0")
