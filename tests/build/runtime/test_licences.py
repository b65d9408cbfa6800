"""What the book carries stands in every book, with the texts of the licences."""

import re
from pathlib import Path

from baybook.carried import Carried
from baybook.pages.licences import licences_page
from baybook.runtime.vendored import keep_licences, vendored


def carried(tmp_path: Path, modules: Path) -> list[Carried]:
    keep_licences(modules, tmp_path / "licences")
    return vendored(tmp_path / "licences")


def test_each_has_version_licence_hash_and_text(tmp_path: Path, modules: Path) -> None:
    found = carried(tmp_path, modules)
    text = licences_page(found).text
    assert "| [pyodide](#pyodide) | 0.29.5 | MPL-2.0 | the browser's Python |" in text
    for each in found:
        place = each.name.lower().replace("@", "").replace("/", "-")
        assert f"## {each.name} {{#{place}}}" in text
        assert f"`{each.integrity}`" in text
        assert each.text.strip() in text
        assert len(each.text) > 500, each.name


def test_what_is_carried_compiled_says_where_its_source_is(tmp_path: Path, modules: Path) -> None:
    found = {each.name: each for each in carried(tmp_path, modules)}
    assert "Mozilla Public License Version 2.0" in found["pyodide"].text
    for name in ("pyodide", "CPython", "Emscripten"):
        assert re.fullmatch(r"https://github\.com/[\w-]+/\w+", found[name].source)
