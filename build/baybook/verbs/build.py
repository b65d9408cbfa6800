"""`baybook build`: the whole book into a folder."""

import logging
import sys
from pathlib import Path
from typing import Protocol, TextIO

import click

from baybook.book.compiled import compile_book, count
from baybook.book.requires import edition
from baybook.output.unchanged import RECORD, inputs_name, keep_build, last_build
from baybook.pages.plan_cache import PLANS, plans_of
from baybook.verbs.configuration import currency_of, inputs_of, labour_of, site_of
from baybook.verbs.folders import A_PATH, CLUSTER_OPTION, CONFIG_OPTION, find_config, sources_of
from baybook.verbs.progress import working
from baybook.verbs.usage_error import Verb


class Built(Protocol):
    """What a build made, as `baybook.run_mkdocs` tells it."""

    @property
    def procedures(self) -> int:
        """Number of procedures."""

    @property
    def pages(self) -> int:
        """Number of pages."""

    @property
    def seconds(self) -> float:
        """How long it took [s]."""

    @property
    def bytes(self) -> int:
        """Size of all files [B]."""

    @property
    def index(self) -> Path:
        """The page to open first."""


@click.command("build", cls=Verb, help="build the book into a folder")
@CONFIG_OPTION
@click.option(
    "--site", type=A_PATH, metavar="DIR", help="where it goes (default: as the file says)"
)
@click.option("--again", is_flag=True, help="build it even where nothing has changed")
@CLUSTER_OPTION
def command(config: Path, site: Path | None, again: bool, cluster: str) -> int:
    """Check the sources, build the book, and say where to click; nothing where one is wrong."""
    config = find_config(config)
    record, inputs = config.parent / RECORD, _inputs(config)
    last = None if again else last_build(record, inputs, site or site_of(config))
    if last:
        print(f"{last.said}, nothing has changed\n{_to_open(Path(last.site) / 'index.html')}")
        return 0
    if cluster:
        with working("working out the plans"):
            _plans_by_cluster(config, cluster)
    # MkDocs takes longer to import than `check` and `calc` take to run.
    from baybook.run_mkdocs import build_site

    warned = _Warned()
    try:
        with working("building the book"), warned:
            built = build_site(config, site)
    except click.ClickException as error:
        print(f"baybook: {error.format_message()}", file=sys.stderr)
        return 1
    except OSError as error:
        print(f"baybook: cannot write the book: {error.strerror or error}", file=sys.stderr)
        return 1
    # Warnings are said by each build, so one that warned is never taken for another.
    keep_build(record, "" if warned.count else inputs, built.index.parent, _size(built))
    print(closing(built))
    return 0


class _Warned(logging.StreamHandler[TextIO]):
    """Says the warnings of a build, and counts them."""

    def __init__(self) -> None:
        super().__init__()
        self.setLevel(logging.WARNING)
        self.count = 0

    def __enter__(self) -> None:
        logging.getLogger("mkdocs").addHandler(self)

    def __exit__(self, *_: object) -> None:
        logging.getLogger("mkdocs").removeHandler(self)

    def emit(self, record: logging.LogRecord) -> None:
        """Say one."""
        self.count += 1
        super().emit(record)


def _inputs(config: Path) -> str:
    """Return a name for all that the book is made of, or nothing where that is not known."""
    places = inputs_of(config)
    return inputs_name(places, [edition(places[2])]) if places else ""


def _plans_by_cluster(config: Path, cluster: str) -> None:
    """Let a cluster work out the plans; the build then finds them ready."""
    book = compile_book(sources_of(config).resolve(), labour_of(config), currency_of(config))
    plans_of((car.network for car in book.bound), config.parent / PLANS, cluster)


def closing(built: Built) -> str:
    """Write what a build made and where to click."""
    return f"{_size(built)}, built in {built.seconds:.1f} s\n{_to_open(built.index)}"


def _size(built: Built) -> str:
    made = f"{count(built.procedures, 'procedure')}, {count(built.pages, 'page')}"
    return f"{made}, {built.bytes / 1e6:.1f} MB"


def _to_open(page: Path) -> str:
    index = page.resolve()
    return f"open {index.relative_to(Path.cwd()) if index.is_relative_to(Path.cwd()) else index}"
