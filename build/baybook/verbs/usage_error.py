"""A wrong command line, told in one sentence."""

import argparse
import re
from collections.abc import Sequence
from typing import NoReturn

from baybook.book.sources.problems import close_match


class Misused(Exception):
    """The command line is wrong."""

    def __init__(self, text: str, hint: str = "") -> None:
        super().__init__(text)
        self.hint = hint


class Parser(argparse.ArgumentParser):
    """A parser of one verb's words that raises `Misused`."""

    def __init__(self, prog: str, description: str) -> None:
        super().__init__(prog=prog, description=description, allow_abbrev=False)

    def read(self, words: Sequence[str]) -> argparse.Namespace:
        """Return the values of the words."""
        args, rest = self.parse_known_args(words)
        if rest:
            options = [name for action in self._actions for name in action.option_strings]
            hint = close_match(rest[0], options) or f"see `{self.prog} --help`"
            raise Misused(f"expected no {rest[0]} after `{self.prog}`", hint)
        return args

    def error(self, message: str) -> NoReturn:
        """Raise what argparse found, in our words."""
        missing = re.match(r"the following arguments are required: (.*)", message)
        if missing:
            raise Misused(f"expected {missing[1]} after `{self.prog}`, got nothing", self._help())
        choice = re.match(r"argument (\S+): invalid choice: '(.*)' \(choose from (.*)\)", message)
        if choice:
            known = [word.strip(" '") for word in choice[3].split(",")]
            hint = close_match(choice[2], known)
            raise Misused(f"expected one of {', '.join(known)}; got {choice[2]}", hint)
        raise Misused(message, self._help())

    def _help(self) -> str:
        return f"see `{self.prog} --help`"
