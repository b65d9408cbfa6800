"""Where the sources and the configuration of a book are."""

from pathlib import Path

import click

from baybook.book.sources.problems import close_match
from baybook.verbs.configuration import SOURCES, named_sources, refuse_code
from baybook.verbs.usage_error import Misused

CONFIG = "mkdocs.yml"

A_PATH = click.Path(path_type=Path)
CONFIG_OPTION = click.option(
    "--config", type=A_PATH, default=CONFIG, metavar="FILE", help=f"default: {CONFIG}"
)

CLUSTER_OPTION = click.option(
    "--cluster", default="", metavar="ADDRESS", help="a Dask scheduler that shares the work"
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
    return folder / (named_sources(config) if config.is_file() else SOURCES)


def sources_of(config: Path) -> Path:
    """Return the folder of the sources that a configuration names."""
    return _existing(config.parent / named_sources(config))


def find_config(config: Path) -> Path:
    """Return the configuration of a book, made sure that it is there and carries no code."""
    if config.is_file():
        refuse_code(config)
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
