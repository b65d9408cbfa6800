"""A wrong command line, told in one sentence; click reads the words."""

import click

from baybook.book.sources.problems import close_match


class Misused(Exception):
    """The command line is wrong."""

    def __init__(self, text: str, hint: str = "") -> None:
        super().__init__(text)
        self.hint = hint


class Verb(click.Command):
    """One verb; what click finds wrong with its words is told in ours."""

    allow_extra_args = True

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Read the words of the verb.

        Raises
        ------
        Misused
            When they are wrong.
        """
        see_help = f"see `{ctx.command_path} --help`"
        try:
            super().parse_args(ctx, args)
        except click.NoSuchOption as error:
            raise self._unexpected(ctx, error.option_name) from error
        except click.MissingParameter as error:
            names = ", ".join(self._missing(ctx))
            text = f"expected {names} after `{ctx.command_path}`, got nothing"
            raise Misused(text, see_help) from error
        except click.UsageError as error:
            raise Misused(error.format_message(), see_help) from error
        if ctx.args:
            raise self._unexpected(ctx, ctx.args[0])
        return []

    def _unexpected(self, ctx: click.Context, word: str) -> Misused:
        options = [name for option in self.get_params(ctx) for name in option.opts]
        hint = close_match(word, options) or f"see `{ctx.command_path} --help`"
        return Misused(f"expected no {word} after `{ctx.command_path}`", hint)

    def _missing(self, ctx: click.Context) -> list[str]:
        wanted = [each for each in self.params if each.required and each.name not in ctx.params]
        return [each.human_readable_name for each in wanted]


class WholeNumber(click.ParamType[int]):
    """A whole number."""

    name = "integer"

    def convert(
        self, value: str | int, param: click.Parameter | None, ctx: click.Context | None
    ) -> int:
        """Return the number.

        Raises
        ------
        Misused
            When it is none.
        """
        try:
            return int(value)
        except ValueError as error:
            option = param.opts[0] if param else "it"
            see_help = f"see `{ctx.command_path} --help`" if ctx else ""
            raise Misused(f"expected a whole number for {option}, got {value}", see_help) from error


class OneOf(click.Choice[str]):
    """A choice that suggests the nearest of its words."""

    def convert(self, value: str, param: click.Parameter | None, ctx: click.Context | None) -> str:
        """Return the word.

        Raises
        ------
        Misused
            When it is none of the choice.
        """
        if value not in self.choices:
            text = f"expected one of {', '.join(self.choices)}; got {value}"
            raise Misused(text, close_match(value, self.choices))
        return super().convert(value, param, ctx)
