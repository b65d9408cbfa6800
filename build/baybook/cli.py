"""The command line: one verb, one file in `baybook.verbs`."""

import argparse
import sys
from collections.abc import Sequence

from baybook.verbs import check

VERBS = {"check": check}


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one verb and return the exit code."""
    parser = argparse.ArgumentParser(prog="baybook")
    verbs = parser.add_subparsers(dest="verb", required=True)
    for name, verb in VERBS.items():
        verb.add_arguments(verbs.add_parser(name, help=verb.HELP))
    args = parser.parse_args(sys.argv[1:] if arguments is None else arguments)
    return VERBS[args.verb].run(args)
