"""What the tests make once and keep from one run to the next."""

from pathlib import Path

from filelock import FileLock

ROOT = Path(__file__).parents[1]
KEPT = ROOT / ".cache" / "tests"
RUNTIME_CACHE = ROOT / ".cache" / "baybook"
"""That of the demo book: npm packages and the browser's Python."""


def one_maker() -> FileLock:
    """Return the lock of all that is kept: of several workers one makes it, the others wait."""
    KEPT.mkdir(parents=True, exist_ok=True)
    RUNTIME_CACHE.mkdir(parents=True, exist_ok=True)
    return FileLock(KEPT / "made.lock")
