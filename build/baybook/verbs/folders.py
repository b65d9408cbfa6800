"""Where the sources and the configuration of a book are."""

from pathlib import Path
from typing import Any

import click
import yaml

from baybook.book.sources.problems import close_match
from baybook.verbs.usage_error import Misused

CONFIG = "mkdocs.yml"
SOURCES = "procedures"
LABOUR_PER_HOUR = 60.0

A_PATH = click.Path(path_type=Path)
CONFIG_OPTION = click.option(
    "--config", type=A_PATH, default=CONFIG, metavar="FILE", help=f"default: {CONFIG}"
)


def find_sources(folder: Path | None) -> Path:
    """Return the folder of the sources.

    Parameters
    ----------
    folder : Path
        The sources themselves, or a folder with ``mkdocs.yml``; without it, the working folder
        is such a folder or holds ``procedures`` [-]

    Raises
    ------
    Misused
        When there is no such folder.
    """
    if folder and not (folder / CONFIG).is_file():
        return _existing(folder)
    return _existing(sources_named(folder or Path()))


def sources_named(folder: Path) -> Path:
    """Return the folder of the sources of a book, there or not."""
    config = folder / CONFIG
    return folder / (_named_sources(config) if config.is_file() else SOURCES)


def sources_of(config: Path) -> Path:
    """Return the folder of the sources that a configuration names."""
    return _existing(config.parent / _named_sources(config))


def find_config(config: Path) -> Path:
    """Return the configuration of a book, made sure that it is there."""
    if config.is_file():
        return config
    raise Misused(
        f"expected the configuration of a book, got {config}, which is not there",
        f"run it in the folder with {CONFIG}, or give --config FILE",
    )


def _existing(folder: Path) -> Path:
    if folder.is_dir():
        return folder
    what = "is a file" if folder.exists() else "does not exist"
    beside = [path.name for path in folder.parent.glob("*") if path.is_dir()]
    hint = close_match(folder.name, beside) or "give the folder with the procedures"
    raise Misused(f"expected a folder with sources, got {folder}, which {what}", hint)


class _Lenient(yaml.SafeLoader):
    """Reads a configuration of MkDocs, of which some tags mean nothing here."""


def _ignore(_loader: yaml.SafeLoader, _suffix: str, _node: yaml.Node) -> None:
    return None


for _tag in ("!", "tag:yaml.org,2002:python/"):
    _Lenient.add_multi_constructor(_tag, _ignore)


def _named_sources(config: Path) -> str:
    """Return what the plugin's option ``sources`` says, or its default."""
    found = _options(_plugins(config)).get("sources", SOURCES)
    return found if isinstance(found, str) else SOURCES


def _plugins(config: Path) -> Any:
    try:
        data = yaml.load(config.read_bytes(), _Lenient)
    except (yaml.YAMLError, UnicodeDecodeError) as error:
        text = " ".join(str(error).split())
        raise Misused(f"expected YAML in {config}, got a fault: {text}") from error
    return (data.get("plugins") if isinstance(data, dict) else None) or []


def labour_of(config: Path) -> float:
    """Return what an hour of work costs, as a configuration says."""
    found = _options(_plugins(config)).get("labour_per_hour", LABOUR_PER_HOUR)
    return float(found) if isinstance(found, int | float) else LABOUR_PER_HOUR


def _options(plugins: Any) -> dict[str, Any]:
    entries = plugins if isinstance(plugins, list) else [plugins]
    for entry in entries:
        if isinstance(entry, dict) and isinstance(entry.get("baybook"), dict):
            return dict(entry["baybook"])
    return {}
