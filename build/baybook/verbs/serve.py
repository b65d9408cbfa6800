"""`baybook serve`: a live preview."""

import argparse
import re
import sys
from pathlib import Path

import click

from baybook.verbs.build import refuse_bad_sources
from baybook.verbs.folders import CONFIG, find_config
from baybook.verbs.usage_error import Misused

HELP = "show the book in the browser, built again at each change"
_ADDRESS = re.compile(r"[^\s:/]+:\d{1,5}")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare what the verb takes."""
    parser.add_argument(
        "--config", type=Path, default=Path(CONFIG), metavar="FILE", help=f"default: {CONFIG}"
    )
    parser.add_argument(
        "--address", default="127.0.0.1:8000", metavar="HOST:PORT", help="default: 127.0.0.1:8000"
    )


def run(args: argparse.Namespace) -> int:
    """Serve the book until it is stopped."""
    if not _ADDRESS.fullmatch(args.address):
        raise Misused(f"expected an address such as 127.0.0.1:8000, got {args.address}")
    config = find_config(args.config)
    refuse_bad_sources(config)
    # MkDocs takes longer to import than `check` and `calc` take to run.
    from baybook.plugin import serve_site

    print(f"the book will be at http://{args.address}/ (Ctrl-C stops it)", flush=True)
    try:
        serve_site(config, args.address)
    except click.ClickException as error:
        print(f"baybook: {error.format_message()}", file=sys.stderr)
        return 1
    except OSError as error:
        print(f"baybook: cannot serve at {args.address}: {error.strerror}", file=sys.stderr)
        return 1
    return 0
