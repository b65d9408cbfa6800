"""The modules of the pages' script: joined in order, each with its own names, ready to run."""

import subprocess
from pathlib import Path

import pytest

from baybook.runtime.node import find_node
from baybook.runtime.page_scripts import joined_script, joined_style


def write(folder: Path, **modules: str) -> Path:
    for name, text in modules.items():
        (folder / name.replace("_", ".")).write_text(text)
    return folder


def said(script: str, folder: Path) -> list[str]:
    """Run a classic script in Node and return the lines that it wrote."""
    (folder / "joined.cjs").write_text(script)
    command = [find_node().node, "joined.cjs"]
    done = subprocess.run(command, cwd=folder, capture_output=True, text=True, check=True)
    return done.stdout.splitlines()


def test_each_module_comes_after_those_it_imports_and_keeps_its_names(tmp_path: Path) -> None:
    folder = write(
        tmp_path,
        main_js='import { one } from "./one.js";\nimport words from "./words.json" with '
        '{ type: "json" };\n\nconst own = words.hello;\nconsole.log(own, one());\n',
        one_js='import {\n  two,\n} from "./two.js";\nconst own = 1;\n'
        "export function one() {\n  return own + two;\n}\n",
        two_js="const own = 2;\nexport const two = own;\nconsole.log('first');\n",
        words_json='{"hello": "hello"}',
        other_js="not read: it is asked for by nobody (",
    )
    assert said(joined_script(folder=folder), folder) == ["first", "hello 3"]


def test_a_library_is_handed_on_by_its_name(tmp_path: Path) -> None:
    text = (
        "(function (root, make) { typeof exports === 'object' ? make(exports) : 0; })"
        "(this, (e) => { e.seven = 7; });"
    )
    folder = write(tmp_path, main_js="console.log(carriedLibraries.lib.seven);\n")
    assert said(joined_script({"lib": text}, folder), folder) == ["7"]


def test_modules_that_import_each_other_are_refused(tmp_path: Path) -> None:
    folder = write(
        tmp_path,
        main_js='import { one } from "./one.js";\n',
        one_js='import { x } from "./main.js";\nexport const one = 1;\n',
    )
    with pytest.raises(ValueError, match=r"main\.js -> one\.js -> main\.js"):
        joined_script(folder=folder)


@pytest.mark.parametrize(
    "line",
    [
        "export { one };",
        "export default 1;",
        'import * as all from "./one.js";',
        "export let x = 1;",
    ],
)
def test_a_form_that_is_not_joined_is_refused(tmp_path: Path, line: str) -> None:
    with pytest.raises(ValueError, match=r"main\.js: this form is not joined"):
        joined_script(folder=write(tmp_path, main_js=f"{line}\n"))


def test_the_script_of_the_book_is_one_script_that_runs_anywhere(tmp_path: Path) -> None:
    script = joined_script({"idb": "exports.openDB = null;"})
    (tmp_path / "joined.js").write_text(script)
    command = [find_node().node, "--check", "joined.js"]
    subprocess.run(command, cwd=tmp_path, check=True)
    assert "import " not in "".join(line[:7] for line in script.splitlines())


def test_dark_is_written_once_and_holds_for_the_system_and_for_a_choice(tmp_path: Path) -> None:
    (tmp_path / "a.css").write_text("a {}\n@dark {\n  --ink: white;\n}\nb {}\n", "utf-8")
    style = joined_style(tmp_path)
    assert style.count("--ink: white;") == 2
    assert "@dark" not in style
    assert '(prefers-color-scheme: dark) {\n:root:not([data-scheme="light"]) {' in style
    assert ':root[data-scheme="dark"] {\n  --ink: white;\n}' in style
