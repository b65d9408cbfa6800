"""What the terminal shows while something takes longer than a second."""

from collections.abc import Iterator
from contextlib import contextmanager

from rich.console import Console
from rich.progress import Progress, SpinnerColumn, TextColumn, TimeElapsedColumn


@contextmanager
def working(text: str) -> Iterator[None]:
    """Show what is being done and for how long, on a terminal only."""
    console = Console(stderr=True)
    columns = (SpinnerColumn(), TextColumn("{task.description}"), TimeElapsedColumn())
    with Progress(
        *columns, console=console, transient=True, disable=not console.is_terminal
    ) as bar:
        bar.add_task(text, total=None)
        yield
