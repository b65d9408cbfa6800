"""The options of the MkDocs plugin, each with what it may be."""

from mkdocs.config.base import BaseConfigOption, Config, ValidationError
from mkdocs.config.config_options import Type

from baybook.book.bounds import LABOUR_PER_HOUR
from baybook.book.sources.problems import close_match
from baybook.runtime.typeface import CARRIED


class _Labour(BaseConfigOption[float]):
    """What an hour of work costs."""

    def __init__(self, default: float) -> None:
        super().__init__()
        self.default = default

    def run_validation(self, value: object) -> float:
        """Return the number, or refuse it."""
        problem = LABOUR_PER_HOUR.problem(value)
        if problem or not isinstance(value, int | float):
            raise ValidationError(problem)
        return float(value)


class _Sign(BaseConfigOption[str]):
    """The sign of a currency."""

    def __init__(self, default: str) -> None:
        super().__init__()
        self.default = default

    def run_validation(self, value: object) -> str:
        """Return the sign, or refuse it."""
        if isinstance(value, str) and value.strip() and value.isprintable() and len(value) <= 8:
            return value
        raise ValidationError(f"expected a sign such as $ or EUR, got {str(value)[:40]!r}")


class BaybookConfig(Config):  # type: ignore[no-untyped-call]
    """The plugin's options in ``mkdocs.yml``."""

    sources = Type(str, default="procedures")
    labour_per_hour = _Labour(default=60)
    currency = _Sign(default="$")
    for_authors = Type(bool, default=True)
    typeface = Type(str, default=CARRIED)
    requires = Type(str, default="")
    safe = Type(bool, default=False)

    def validate(self) -> tuple[list[tuple[str, Exception]], list[tuple[str, str]]]:
        """Refuse unknown options too: a misspelt one would let its default hold without a word."""
        failed, warnings = super().validate()
        known = [name for name, _ in self._schema]
        for name in self.keys() - set(known):
            hint = close_match(name, known) or f"known are {', '.join(known)}"
            error = ValidationError(f"expected a known option of baybook, got {name}; {hint}")
            failed.append((name, error))
        return failed, [each for each in warnings if each[0] in known]
