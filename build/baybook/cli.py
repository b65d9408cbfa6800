"""The command line: one verb, one file in `baybook.verbs`."""

import argparse
import os
import shlex
import sys
import traceback
from collections.abc import Mapping, Sequence
from importlib.metadata import version
from typing import Protocol

from baybook.book.sources.problems import BadSources, close_match
from baybook.verbs import build, calc, check, new, serve, simulate
from baybook.verbs.usage_error import Misused, Parser

WRONG_SOURCES = 1
WRONG_COMMAND = 2
OWN_FAULT = 3
INTERRUPTED = 130


class Verb(Protocol):
    """What a module of `baybook.verbs` offers."""

    HELP: str

    def add_arguments(self, parser: argparse.ArgumentParser, /) -> None:
        """Declare what the verb takes."""

    def run(self, args: argparse.Namespace, /) -> int:
        """Do it and return the exit code."""


VERBS: Mapping[str, Verb] = {
    "check": check,
    "build": build,
    "serve": serve,
    "new": new,
    "calc": calc,
    "simulate": simulate,
}


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one verb and return the exit code.

    Returns
    -------
    int
        0 when all is well, 1 for wrong sources or figures, 2 for a wrong command line, 3 for a
        fault of the program itself.
    """
    words = list(sys.argv[1:] if arguments is None else arguments)
    try:
        code = _run(words)
        sys.stdout.flush()
        return code
    except Misused as error:
        _complain(str(error), error.hint)
        return WRONG_COMMAND
    except BadSources as error:
        print(error, file=sys.stderr)
        return WRONG_SOURCES
    except KeyboardInterrupt:
        _complain("stopped")
        return INTERRUPTED
    except BrokenPipeError:
        # Whoever read the output has enough; nothing may be written any more, not even at exit.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    except Exception as error:
        _complain(_own_fault(error), _report_hint(words))
        return OWN_FAULT


def _run(words: list[str]) -> int:
    if words[:1] in (["-h"], ["--help"]):
        print(_usage())
        return 0
    if words[:1] == ["--version"]:
        print(f"baybook {version('baybook')}")
        return 0
    if not words:
        print(_usage(), file=sys.stderr)
        return WRONG_COMMAND
    name = words[0]
    if name not in VERBS:
        hint = close_match(name, VERBS) or f"the verbs are {', '.join(VERBS)}"
        raise Misused(f"expected a verb, got {name}", hint)
    parser = Parser(prog=f"baybook {name}", description=VERBS[name].HELP)
    VERBS[name].add_arguments(parser)
    return VERBS[name].run(parser.read(words[1:]))


def _usage() -> str:
    width = max(map(len, VERBS))
    lines = [f"  {name:<{width}}  {verb.HELP}" for name, verb in VERBS.items()]
    return "usage: baybook VERB ...\n\n" + "\n".join(lines) + "\n\nbaybook VERB --help says more"


def _complain(text: str, hint: str = "") -> None:
    print(f"baybook: {text}" + (f"\n    hint: {hint}" if hint else ""), file=sys.stderr)


def _own_fault(error: Exception) -> str:
    frames = traceback.extract_tb(error.__traceback__)
    where = f"{frames[-1].name}, line {frames[-1].lineno}" if frames else "an unknown place"
    what = " ".join(str(error).split())[:200]
    return f"stopped by a fault of its own: {type(error).__name__}: {what} (in {where})"


def _report_hint(words: list[str]) -> str:
    return (
        f"please report this line with the command `baybook {shlex.join(words)}` "
        "and what it was given to read"
    )
