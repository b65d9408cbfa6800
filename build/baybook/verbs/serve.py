"""`baybook serve`: a live preview."""

import re
import sys
from pathlib import Path

import click

from baybook.verbs.folders import CONFIG_OPTION, find_config
from baybook.verbs.usage_error import Misused, Verb

_ADDRESS = re.compile(r"[^\s:/]+:\d{1,5}")


@click.command("serve", cls=Verb, help="show the book in the browser, built again at each change")
@CONFIG_OPTION
@click.option(
    "--address", default="127.0.0.1:8000", metavar="HOST:PORT", help="default: 127.0.0.1:8000"
)
def command(config: Path, address: str) -> int:
    """Serve the book until it is stopped."""
    if not _ADDRESS.fullmatch(address):
        raise Misused(f"expected an address such as 127.0.0.1:8000, got {address}")
    config = find_config(config)
    # MkDocs takes longer to import than `check` and `calc` take to run.
    from baybook.run_mkdocs import serve_site

    print(f"the book will be at http://{address}/ (Ctrl-C stops it)", flush=True)
    try:
        serve_site(config, address)
    except click.ClickException as error:
        print(f"baybook: {error.format_message()}", file=sys.stderr)
        return 1
    except OSError as error:
        print(f"baybook: cannot serve at {address}: {error.strerror}", file=sys.stderr)
        return 1
    return 0
