"""Measures how a book grows: clones of the demo book, more procedures and more cars.

python -m tests.bench.growth_bench
"""

import hashlib
import re
import resource
import shutil
import tempfile
import time
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import count
from pathlib import Path

from tests.bench.build_bench import change
from tests.browser.conftest import ROOT, build_command

SIZES = ((28, 5), (28, 50), (200, 5), (200, 50))
"""Procedures and cars of the books that are measured; the demo book is the first."""

RUNTIME = "assets/runtime"
SEARCH = "assets/search"


@dataclass(frozen=True, slots=True)
class Measured:
    """What a build made, and what it took."""

    pages: int
    size: int
    """Bytes without the browser's Python."""
    index: int
    """Bytes of the field's shards."""
    seconds: float
    """Processor time [s]."""
    memory: float
    """Most memory of a process of it [MB]."""
    files: dict[str, str]


def clone_book(folder: Path, procedures: int, cars: int) -> Path:
    """Lay out a book of clones with the plans of the demo book already worked out."""
    shutil.copytree(ROOT / "procedures", folder / "procedures")
    for name in ("mkdocs.yml", "docs"):
        (folder / name).symlink_to(ROOT / name)
    cache = folder / ".cache" / "baybook"
    cache.mkdir(parents=True)
    for made in (ROOT / ".cache" / "baybook").iterdir():
        if made.name.startswith(("npm-", "runtime-")):
            (cache / made.name).symlink_to(made)
    shutil.copytree(ROOT / ".cache" / "baybook" / "plans", cache / "plans")
    sources = folder / "procedures"
    _clone(sorted(sources.glob("*.md")), procedures, r"^title: (.*)$")
    _clone(sorted((sources / "vehicles").glob("*.yml")), cars, r"^name: (.*)$")
    return folder


def _clone(originals: list[Path], wanted: int, title: str) -> None:
    made = len(originals)
    for copy in count(2):
        for original in originals:
            if made >= wanted:
                return
            text = re.sub(title, rf"\g<0> {copy}", original.read_text("utf-8"), count=1, flags=re.M)
            name = f"{original.stem}-copy-{copy}{original.suffix}"
            (original.parent / name).write_text(text, "utf-8")
            made += 1


def measure(folder: Path) -> Measured:
    """Build the book of a folder."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    build_command(folder / "site", folder)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    files = dict(_files(folder / "site"))
    sizes = {name: (folder / "site" / name).stat().st_size for name in files}
    return Measured(
        pages=sum(name.endswith(".html") for name in files),
        size=sum(size for name, size in sizes.items() if not name.startswith(RUNTIME)),
        index=sum(size for name, size in sizes.items() if name.startswith(SEARCH)),
        seconds=after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime,
        memory=after.ru_maxrss / 1024,
        files=files,
    )


def _files(site: Path) -> Iterator[tuple[str, str]]:
    for path in site.rglob("*"):
        if path.is_file():
            yield (
                path.relative_to(site).as_posix(),
                hashlib.sha256(path.read_bytes()).hexdigest(),
            )


def changed(one: Measured, two: Measured) -> list[str]:
    """Return the files that differ between two builds."""
    names = sorted(one.files.keys() | two.files.keys())
    return [name for name in names if one.files.get(name) != two.files.get(name)]


def main() -> None:
    """Measure and print."""
    first = None
    for procedures, cars in SIZES:
        with tempfile.TemporaryDirectory() as name:
            folder = clone_book(Path(name), procedures, cars)
            began = time.perf_counter()
            found = measure(folder)
            first = first or found
            print(
                f"{procedures:4} procedures x {cars:2} cars: {found.pages} pages, "
                f"{found.size / 1e6:.1f} MB without the runtime, index {found.index / 1e6:.2f} MB, "
                f"{found.seconds:.1f} s of CPU ({1000 * found.seconds / found.pages:.0f} ms a "
                f"page), {time.perf_counter() - began:.0f} s, {found.memory:.0f} MB of memory; "
                f"to the first: {found.size / first.size:.2f} x bytes, "
                f"{found.seconds / first.seconds:.2f} x time",
                flush=True,
            )
            if (procedures, cars) == SIZES[0]:
                second_builds(folder, found)


def second_builds(folder: Path, before: Measured) -> None:
    """Build again with a procedure, then a figure of a car, changed."""
    change(folder)
    again = measure(folder)
    print(f"  one procedure changed: {again.seconds / before.seconds:.2f} x time")
    vehicle = folder / "procedures" / "vehicles" / "halden-finch.yml"
    text = vehicle.read_text("utf-8").replace("position B3", "position B4", 1)
    vehicle.write_text(text, "utf-8")
    print(f"  a figure of a car changed: {changed(again, measure(folder))}")


if __name__ == "__main__":
    main()
