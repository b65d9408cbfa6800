"""`baybook build`: the whole book into a folder."""

import sys
from pathlib import Path
from typing import Protocol

import click

from baybook.book.compiled import compile_book, count
from baybook.pages.plan_cache import PLANS, plans_of
from baybook.verbs.configuration import currency_of, labour_of
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
@CLUSTER_OPTION
def command(config: Path, site: Path | None, cluster: str) -> int:
    """Check the sources, build the book, and say where to click; nothing where one is wrong."""
    config = find_config(config)
    if cluster:
        with working("working out the plans"):
            _plans_by_cluster(config, cluster)
    # MkDocs takes longer to import than `check` and `calc` take to run.
    from baybook.run_mkdocs import build_site

    try:
        with working("building the book"):
            built = build_site(config, site)
    except click.ClickException as error:
        print(f"baybook: {error.format_message()}", file=sys.stderr)
        return 1
    except OSError as error:
        print(f"baybook: cannot write the book: {error.strerror or error}", file=sys.stderr)
        return 1
    print(closing(built))
    return 0


def _plans_by_cluster(config: Path, cluster: str) -> None:
    """Let a cluster work out the plans; the build then finds them ready."""
    book = compile_book(sources_of(config).resolve(), labour_of(config), currency_of(config))
    plans_of((car.network for car in book.bound), config.parent / PLANS, cluster)


def closing(built: Built) -> str:
    """Write what a build made and where to click."""
    index = built.index.resolve()
    shown = index.relative_to(Path.cwd()) if index.is_relative_to(Path.cwd()) else index
    return (
        f"{count(built.procedures, 'procedure')}, {count(built.pages, 'page')}, "
        f"{built.bytes / 1e6:.1f} MB, built in {built.seconds:.1f} s\nopen {shown}"
    )
