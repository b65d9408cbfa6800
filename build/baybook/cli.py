"""The command line: one verb, one file in `baybook.verbs`."""

import os
import shlex
import sys
import traceback
from collections.abc import Sequence

import click

from baybook.book.sources.problems import BadSources, close_match
from baybook.verbs import build, calc, check, exercise, learn, marks, new, serve, simulate
from baybook.verbs.usage_error import Misused
from baybook.workers import NoCluster

WRONG_SOURCES = 1
WRONG_COMMAND = 2
OWN_FAULT = 3
INTERRUPTED = 130


VERBS = {
    each.command.name or "": each.command
    for each in (check, build, serve, new, calc, simulate, learn, exercise, marks)
}


class _Baybook(click.Group):
    """The verbs, listed in the order of the work."""

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Read the words before the verb."""
        try:
            return super().parse_args(ctx, args)
        except click.NoSuchOption as error:
            raise self._no_verb(error.option_name) from error

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """Find the verb."""
        if args[0] not in self.commands:
            raise self._no_verb(args[0])
        return super().resolve_command(ctx, args)

    def _no_verb(self, word: str) -> Misused:
        hint = close_match(word, self.commands) or f"the verbs are {', '.join(self.commands)}"
        return Misused(f"expected a verb, got {word}", hint)

    def get_help(self, ctx: click.Context) -> str:  # noqa: ARG002
        """List the verbs."""
        width = max(map(len, self.commands))
        lines = [f"  {name:<{width}}  {verb.help}" for name, verb in self.commands.items()]
        return (
            "usage: baybook VERB ...\n\n" + "\n".join(lines) + "\n\nbaybook VERB --help says more"
        )


BAYBOOK = click.version_option(package_name="baybook", message="baybook %(version)s")(
    _Baybook(
        "baybook",
        commands=VERBS,
        no_args_is_help=False,
        context_settings={"help_option_names": ["-h", "--help"]},
    )
)


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
    except NoCluster as error:
        _complain(str(error), "leave out --cluster to use this machine alone")
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
    try:
        with BAYBOOK.make_context("baybook", words) as context:
            if words:
                return int(BAYBOOK.invoke(context))
            print(context.get_help(), file=sys.stderr)
            return WRONG_COMMAND
    except click.exceptions.Exit as ended:
        return ended.exit_code


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
