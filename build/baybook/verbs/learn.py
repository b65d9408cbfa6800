"""`baybook learn`: what closed jobs say of the values of a book, and on demand into its sources."""

import sys
from pathlib import Path

import click

from baybook.book.compiled import count
from baybook.runtime.page_scripts import book_id
from baybook.verbs.configuration import labour_of, site_name_of
from baybook.verbs.folders import A_PATH, CLUSTER_OPTION, CONFIG_OPTION, find_config, sources_of
from baybook.verbs.progress import working
from baybook.verbs.usage_error import Misused, Verb, WholeNumber


@click.command(
    "learn", cls=Verb, help="say what closed jobs tell of the chances, times and faults of a book"
)
@click.argument("folder", type=A_PATH, metavar="FOLDER")
@click.option("--write", is_flag=True, help="put the new numbers into the sources")
@click.option("--yes", is_flag=True, help="write even where they were not shown to be better")
@click.option("--all", "everything", is_flag=True, help="show every value and every file left out")
@click.option(
    "--jobs", type=WholeNumber(), default=30, metavar="N", help="an author's value counts as (30)"
)
@click.option(
    "--cars", type=WholeNumber(), default=50, metavar="N", help="simulated for each plan (50)"
)
@click.option(
    "--anonymous", type=A_PATH, metavar="OUT", help="write sheets to be passed on, and end"
)
@CLUSTER_OPTION
@CONFIG_OPTION
def command(
    folder: Path,
    write: bool,
    yes: bool,
    everything: bool,
    jobs: int,
    cars: int,
    anonymous: Path | None,
    cluster: str,
    config: Path,
) -> int:
    """Read the sheets, print what they say, and write it where that is asked for."""
    if not folder.is_dir():
        raise Misused(f"expected a folder with bench sheets, got {folder}, which is none")
    if jobs < 1:
        raise Misused(f"expected --jobs of at least 1, got {jobs}")
    try:
        from baybook.learning.anonymous import write_all
        from baybook.learning.session import Question, learn_from
        from baybook.learning.take_over import not_better, take_over
    except ImportError as error:
        what = f"expected the packages that learning needs, got no {error.name}"
        raise Misused(what, 'install them with pip install "baybook[learn]"') from error
    if anonymous:
        if anonymous.exists() and (not anonymous.is_dir() or any(anonymous.iterdir())):
            raise Misused(f"expected an empty or a new folder for --anonymous, got {anonymous}")
        written = write_all(folder, anonymous, print)
        print(f"wrote {count(written, 'sheet')} to {anonymous}, with nothing personal in them")
        return 0
    config = find_config(config)
    question = Question(
        folder=folder,
        sources=sources_of(config).resolve(),
        book=book_id(site_name_of(config)),
        labour_per_hour=labour_of(config),
        weight=jobs,
        cars=cars,
        everything=everything,
        cluster=cluster,
    )
    found = learn_from(question, lambda line: print(line, flush=True), working)
    if not found:
        print("no closed job of this book: nothing is learned")
        return 1
    print()
    if not write:
        print("nothing is written; --write puts the new numbers into the sources")
        return 0
    if not yes and not _agreed(not_better(found)):
        print("nothing is written")
        return 1
    take_over(question.sources, found, jobs, print)
    print("`baybook simulate` works the figures of the simulated cars out anew")
    return 0


def _agreed(worse: list[str]) -> bool:
    """Ask where the new numbers are not better; without a terminal that is a no."""
    if not worse:
        return True
    print(f"not shown to foretell jobs better: {', '.join(worse)}")
    if not sys.stdin.isatty():
        print("--yes writes the numbers all the same")
        return False
    return click.confirm("write the numbers all the same?", default=False)
