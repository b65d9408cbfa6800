"""Titles and names that readers tell things apart by: one line each, and no two alike."""

from collections.abc import Iterable

from baybook.book.context import Context
from baybook.book.sources.problem_report import Report
from baybook.book.sources.read import Path

Named = tuple[Path, str]


def check_names(context: Context) -> None:
    """Check the titles of a procedure, and warn of those that are alike."""
    data, report = context.data, context.report
    check_lines(report, [(("title",), data.title)])
    titles: list[Named] = [(("tests", i, "title"), each.title) for i, each in data.tests.items()]
    parts: list[Named] = [(("parts", i, "name"), each.name) for i, each in data.parts.items()]
    for names in (titles, parts):
        check_lines(report, names)
        _check_alike(report, names)
    faults = data.faults.items()
    for part in data.parts:
        own = [(i, fault) for i, fault in faults if fault.part == part]
        for when in {fault.when for _, fault in own}:
            same = [(("faults", i, "says"), each.says) for i, each in own if each.when == when]
            _check_alike(report, same)


def check_lines(report: Report, names: Iterable[Named]) -> None:
    """Check that each name is one line."""
    for path, name in names:
        if "\n" in name.strip():
            report.error(path, "expected one line, got several", "a title has no line breaks")


def _check_alike(report: Report, names: Iterable[Named]) -> None:
    met: set[str] = set()
    for path, name in names:
        same = " ".join(name.casefold().split())
        if same in met:
            report.warning(
                path, f"expected a name of its own, got {name} again", "say how the two differ"
            )
        met.add(same)
