"""The scripts of the pages: modules as a browser and Node read them, joined into one plain script.

A page opened from a folder loads no module, so what ships is a classic script. Each module becomes
a function that gives away what the module exports; its other names stay its own.
"""

import json
import re
from collections.abc import Mapping
from pathlib import Path

SCRIPTS = Path(__file__).parents[1] / "assets" / "scripts"
STYLES = Path(__file__).parents[1] / "assets" / "style"
ENTRY = "main.js"

_IMPORT = re.compile(r'^import (\{[^}]*\}|\w+) from "\./([\w.-]+)"(?: with \{[^}]*\})?;\n', re.M)
_EXPORT = re.compile(r"^export (?=(?:async )?(?:function\*?|class|const) (\w+))", re.M)
_DARK = re.compile(r"^@dark \{\n(.*?)^\}", re.M | re.S)
_ANY_OTHER = re.compile(r"^(?:import|export)\b.*$", re.M)


def joined_script(libraries: Mapping[str, str] | None = None, folder: Path = SCRIPTS) -> str:
    """Join the modules that the entry asks for, each after those that it imports.

    Parameters
    ----------
    libraries : Mapping[str, str], optional
        Text of what others made, in the CommonJS form, by the name under which the module
        ``carried.js`` hands it on.
    folder : Path, optional
        Folder of the modules.

    Returns
    -------
    str
        One classic script.

    Raises
    ------
    ValueError
        Where two modules import each other, or an import or export has a form that is not joined.
    """
    parts: dict[str, str] = {}
    _take(folder, ENTRY, parts, ())
    carried = "".join(_library(name, text) for name, text in (libraries or {}).items())
    body = "\n".join(parts.values())
    return f'"use strict";\n{{\nconst carriedLibraries = {{}};\n{carried}{body}}}\n'


def joined_style(folder: Path = STYLES) -> str:
    """Join the parts of the style sheet in the order of their names.

    What stands in ``@dark`` becomes two rules: for a dark system, and for a reader who chose it.
    """
    whole = "\n".join(path.read_text(encoding="utf-8") for path in sorted(folder.glob("*.css")))
    return _DARK.sub(_dark_rules, whole)


def _dark_rules(found: re.Match[str]) -> str:
    system = f':root:not([data-scheme="light"]) {{\n{found[1]}}}'
    chosen = f':root[data-scheme="dark"] {{\n{found[1]}}}'
    return f"@media (prefers-color-scheme: dark) {{\n{system}\n}}\n\n{chosen}"


def book_id(name: str) -> str:
    """Return the id by which records of two books on one host are told apart."""
    return re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-") or "book"


def apart(name: str, text: str) -> str:
    """Write a library as a script of its own, which a page loads when it needs it."""
    given = "const carriedLibraries = baybook.data.libraries;\n"
    return f'"use strict";\n{{\n{given}{_library(name, text)}}}\n'


def _library(name: str, text: str) -> str:
    inside = f"(function (module, exports) {{\n{text}\n}})(module, module.exports);"
    given = f"carriedLibraries[{json.dumps(name)}] = module.exports;"
    return f"{{\nconst module = {{ exports: {{}} }};\n{inside}\n{given}\n}}\n"


def _take(folder: Path, name: str, parts: dict[str, str], above: tuple[str, ...]) -> None:
    if name in parts:
        return
    if name in above:
        raise ValueError(f"modules import each other: {' -> '.join((*above, name))}")
    text = (folder / name).read_text(encoding="utf-8")
    for _, other in _IMPORT.findall(text):
        _take(folder, other, parts, (*above, name))
    parts[name] = _data(text, name) if name.endswith(".json") else _module(text, name)


def _data(text: str, name: str) -> str:
    return f"const {_data_name(name)} = {json.dumps(json.loads(text), ensure_ascii=False)};\n"


def _data_name(name: str) -> str:
    return f"data_{re.sub(r'[^a-z]', '_', name.removesuffix('.json'))}"


def _module(text: str, name: str) -> str:
    """Write a module as a function that is called at once and gives away its exports."""
    defaults = "".join(
        f"const {names} = {_data_name(other)};\n"
        for names, other in _IMPORT.findall(text)
        if not names.startswith("{")
    )
    exports = _EXPORT.findall(text)
    inside = _EXPORT.sub("", _IMPORT.sub("", text))
    if left := _ANY_OTHER.search(inside):
        raise ValueError(f"{name}: this form is not joined: {left[0]}")
    given = f"const {{ {', '.join(exports)} }} = " if exports else ""
    back = f"return {{ {', '.join(exports)} }};\n" if exports else ""
    return f"// {name}\n{given}(() => {{\n{defaults}{inside.strip()}\n{back}}})();\n"
