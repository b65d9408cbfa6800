"""What the command line reads of a book's configuration, before MkDocs does."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import yaml

from baybook.book.bounds import LABOUR_PER_HOUR
from baybook.verbs.usage_error import Misused

SOURCES = "procedures"
LABOUR = 60.0
CURRENCY = "$"

_PYTHON = "tag:yaml.org,2002:python/"
_HARMLESS = tuple(f"{_PYTHON}name:{package}." for package in ("material", "pymdownx"))
"""Names of the theme's own functions, which its features need."""

_MOST_PARENTS = 10

_PLAIN_KEYS = {
    "copyright",
    "docs_dir",
    "exclude_docs",
    "nav",
    "plugins",
    "site_description",
    "site_dir",
    "site_name",
    "site_url",
    "theme",
    "use_directory_urls",
    "validation",
}
"""Keys of a configuration that bring no code and no file of their own into a book."""


class _Lenient(yaml.SafeLoader):
    """Reads a configuration of MkDocs, of which some tags mean nothing here."""


def _ignore(_loader: yaml.SafeLoader, _suffix: str, _node: yaml.Node) -> None:
    return None


for _tag in ("!", _PYTHON):
    _Lenient.add_multi_constructor(_tag, _ignore)


def refuse_code(config: Path) -> None:
    """Refuse a configuration that would run code as soon as MkDocs reads it.

    Raises
    ------
    Misused
        With the place of the first such tag, in the file or one from which it inherits.
    """
    for file in _with_parents(config):
        try:
            for event in yaml.parse(file.read_bytes(), yaml.SafeLoader):
                tag = getattr(event, "tag", None) or ""
                if tag.startswith(_PYTHON) and not tag.startswith(_HARMLESS):
                    line = event.start_mark.line + 1 if event.start_mark else 1
                    shown = tag.replace("tag:yaml.org,2002:", "!!")
                    raise Misused(
                        f"{file}:{line}: expected plain values, got {shown}, which runs code",
                        "take it out; a contribution to a book is sources, never a configuration",
                    )
        except (yaml.YAMLError, UnicodeDecodeError, RecursionError) as error:
            raise _no_yaml(file, error) from error


def _with_parents(config: Path) -> Iterator[Path]:
    """Give a configuration and those from which it inherits."""
    for _ in range(_MOST_PARENTS):
        if not config.is_file():
            return
        yield config
        data = _read(config)
        parent = data.get("INHERIT") if isinstance(data, dict) else None
        if not isinstance(parent, str):
            return
        config = config.parent / parent


def inputs_of(config: Path) -> list[Path]:
    """Return the files and folders from which a book is made; none where that cannot be told.

    It can be told where no other plugin, extension, hook, tag or change to the theme has a say.
    """
    data = _read(config)
    if not isinstance(data, dict) or not data.keys() <= _PLAIN_KEYS or _has_tags(config):
        return []
    theme, plugins = data.get("theme"), data.get("plugins")
    if isinstance(theme, dict) and "custom_dir" in theme:
        return []
    names = [next(iter(each), "") if isinstance(each, dict) else each for each in plugins or []]
    if names != ["baybook"]:
        return []
    options = _options(config)
    docs = data.get("docs_dir", "docs")
    places = [config, config.parent / str(docs), config.parent / named_sources(config)]
    typeface = config.parent / str(options.get("typeface", ""))
    return [*places, typeface] if typeface.is_file() else places


def _has_tags(config: Path) -> bool:
    events = yaml.parse(config.read_bytes(), yaml.SafeLoader)
    return any(getattr(event, "tag", None) for event in events)


def site_of(config: Path) -> Path:
    """Return the folder into which a configuration lets a book be built."""
    data = _read(config)
    named = data.get("site_dir") if isinstance(data, dict) else None
    return config.parent / (named if isinstance(named, str) else "site")


def named_sources(config: Path) -> str:
    """Return what the plugin's option ``sources`` says, or its default."""
    found = _options(config).get("sources", SOURCES)
    return found if isinstance(found, str) else SOURCES


def labour_of(config: Path) -> float:
    """Return what an hour of work costs, as a configuration says.

    Raises
    ------
    Misused
        When it is no sensible number.
    """
    found = _options(config).get("labour_per_hour", LABOUR)
    problem = LABOUR_PER_HOUR.problem(found)
    if problem:
        raise Misused(f"{config}: plugins: baybook: labour_per_hour: {problem}")
    return float(found)


def currency_of(config: Path) -> str:
    """Return the sign of the book's currency."""
    found = _options(config).get("currency", CURRENCY)
    return found if isinstance(found, str) else CURRENCY


def site_name_of(config: Path) -> str:
    """Return the name of a book, which MkDocs asks for."""
    data = _read(config)
    name = data.get("site_name") if isinstance(data, dict) else None
    return name if isinstance(name, str) else ""


def _options(config: Path) -> dict[str, Any]:
    data = _read(config)
    plugins = (data.get("plugins") if isinstance(data, dict) else None) or []
    for entry in plugins if isinstance(plugins, list) else [plugins]:
        if isinstance(entry, dict) and isinstance(entry.get("baybook"), dict):
            return dict(entry["baybook"])
    return {}


def _read(config: Path) -> Any:
    try:
        return yaml.load(config.read_bytes(), _Lenient)
    except (yaml.YAMLError, UnicodeDecodeError, RecursionError, ValueError) as error:
        raise _no_yaml(config, error) from error


def _no_yaml(config: Path, error: Exception) -> Misused:
    text = " ".join(str(error).split())
    return Misused(f"expected YAML in {config}, got a fault: {text}")
