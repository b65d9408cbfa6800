"""Measures the build of the demo book: everything anew, and again with nothing changed.

python -m tests.bench.build_bench
"""

import shutil
import tempfile
import time
from pathlib import Path

from tests.browser.conftest import ROOT, build_command


def book_folder(folder: Path) -> Path:
    """Lay out the demo book with an empty cache; only the npm packages are there already."""
    shutil.copy(ROOT / "mkdocs.yml", folder)
    for name in ("docs", "procedures"):
        shutil.copytree(ROOT / name, folder / name)
    cache = folder / ".cache" / "baybook"
    cache.mkdir(parents=True)
    for packages in (ROOT / ".cache" / "baybook").glob("npm-*"):
        (cache / packages.name).symlink_to(packages)
    return folder


def seconds(folder: Path, *options: str) -> float:
    """Build the book in a folder; return the time its command takes [s]."""
    began = time.perf_counter()
    build_command(folder / "site", folder, *options)
    return time.perf_counter() - began


def change(folder: Path) -> None:
    """Add a line to one procedure."""
    source = folder / "procedures" / "vacuum-supply.md"
    source.write_text(source.read_text("utf-8") + "\nOne line more.\n", "utf-8")


def main() -> None:
    """Measure and print."""
    with tempfile.TemporaryDirectory() as name:
        folder = book_folder(Path(name))
        anew, same, again = seconds(folder), seconds(folder), seconds(folder, "--again")
        change(folder)
        changed = seconds(folder)
    print(
        f"build of the demo book: everything anew {anew:.1f} s, with nothing changed {same:.1f} s, "
        f"every page made again {again:.1f} s, one procedure changed {changed:.1f} s"
    )


if __name__ == "__main__":
    main()
