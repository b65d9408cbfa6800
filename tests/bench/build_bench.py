"""Measures the build of the demo book: everything anew, and again with nothing changed.

python -m tests.bench.build_bench
"""

import tempfile
import time
from pathlib import Path

from tests.browser.conftest import ROOT, build_command


def book_folder(folder: Path) -> Path:
    """Lay out the demo book with an empty cache; only the npm packages are there already."""
    for name in ("mkdocs.yml", "docs", "procedures"):
        (folder / name).symlink_to(ROOT / name)
    cache = folder / ".cache" / "baybook"
    cache.mkdir(parents=True)
    for packages in (ROOT / ".cache" / "baybook").glob("npm-*"):
        (cache / packages.name).symlink_to(packages)
    return folder


def seconds(folder: Path) -> float:
    """Build the book in a folder; return the time its command takes [s]."""
    began = time.perf_counter()
    build_command(folder / "site", folder)
    return time.perf_counter() - began


def main() -> None:
    """Measure and print."""
    with tempfile.TemporaryDirectory() as name:
        folder = book_folder(Path(name))
        anew, again = seconds(folder), seconds(folder)
    print(
        f"build of the demo book: everything anew {anew:.1f} s, again with nothing changed "
        f"{again:.1f} s, ratio {again / anew:.2f}"
    )


if __name__ == "__main__":
    main()
