"""References of tests: set-ups, tools, and what each shows."""

from msgspec import UnsetType

from baybook.book.checks.check_observations import check_observation
from baybook.book.context import Context
from baybook.book.source_model import Test
from baybook.book.sources.read import Path


def check_tests(context: Context) -> None:
    """Check every test and its observations."""
    for name, test in context.data.tests.items():
        path: Path = ("tests", name)
        _check_places(context, path, test)
        if not test.observations:
            context.report.error(
                (*path, "observations"), "expected at least one observation, got none"
            )
        for seen_name, seen in test.observations.items():
            check_observation(context, (*path, "observations", seen_name), seen, test)


def _check_places(context: Context, path: Path, test: Test) -> None:
    report, data = context.report, context.data
    if "shared.yml" in context.book.left_out:
        return
    if not isinstance(test.setup, UnsetType):
        setups = {**context.book.shared.setups, **data.setups}
        report.knows((*path, "setup"), test.setup, setups, "a set-up")
    tools = {**context.book.shared.tools, **data.tools}
    for place, tool in enumerate(test.tools):
        report.knows((*path, "tools", place), tool, tools, "a tool")
