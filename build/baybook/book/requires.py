"""For which Baybook a book was written, and of which day its sources are."""

from datetime import UTC, datetime
from importlib.metadata import version
from pathlib import Path

from packaging.specifiers import InvalidSpecifier, SpecifierSet


def requires_problem(wanted: str) -> tuple[str, ...]:
    """Say that a book wants another Baybook than this one, with a hint; nothing where it fits.

    Parameters
    ----------
    wanted : str
        Such as ``>=0.1,<0.2``; empty where any will do.
    """
    own = version("baybook")
    try:
        fits = SpecifierSet(wanted).contains(own, prereleases=True)
    except InvalidSpecifier:
        return (f"versions are written such as >=0.1,<0.2, and not {wanted}",)
    if fits:
        return ()
    return (
        f"the sources are for Baybook {wanted}, and this is {own}",
        "install that one, or read the changes of the fields and move `requires`",
    )


def edition(sources: Path) -> str:
    """Return the version and the day of the newest source, the same for the same files."""
    newest = max((path.stat().st_mtime for path in sources.rglob("*") if path.is_file()), default=0)
    day = datetime.fromtimestamp(newest, UTC)
    return f"Baybook {version('baybook')}, sources of {day.day} {day:%B %Y}"
