"""Kills a build at 50 random moments: is the old site whole, and does the next build succeed?

python -m tests.bench.kill_bench [KILLS]
"""

import hashlib
import random
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from tests.browser.conftest import build_command
from tests.browser.small_book import lay_out

KILLS = 50


def content(site: Path) -> dict[str, str]:
    """Return every file of a site by its hash."""
    files = (path for path in sorted(site.rglob("*")) if path.is_file())
    return {str(path.relative_to(site)): _digest(path) for path in files}


def _digest(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()


def edit(book: Path, number: int) -> None:
    """Change the title of the procedure, so that each edition is another one."""
    source = book / "procedures" / "air.md"
    lines = source.read_text("utf-8").split("\n")
    lines[1] = f"title: Air pump {number}"
    source.write_text("\n".join(lines), "utf-8")


def killed(book: Path, after: float) -> bool:
    """Start a build and kill it; tell whether it was still running."""
    command = [Path(sys.executable).parent / "baybook", "build", "--site", book / "site"]
    build = subprocess.Popen(command, cwd=book, stdout=subprocess.DEVNULL)
    try:
        build.wait(after)
    except subprocess.TimeoutExpired:
        build.kill()
        build.wait()
        return True
    return False


def main(kills: int = KILLS) -> None:
    """Kill, look, and print."""
    rng = random.Random(17)
    hit = broken = 0
    with tempfile.TemporaryDirectory() as name:
        book = lay_out(Path(name) / "book")
        began = time.perf_counter()
        build_command(book / "site", book)
        whole = time.perf_counter() - began
        old = content(book / "site")
        for number in range(kills):
            edit(book, number)
            stopped = killed(book, rng.uniform(0, whole))
            now = content(book / "site")
            hit += stopped
            if stopped and now != old:  # it was killed behind the exchange: is the new one whole?
                build_command(book / "site", book, "--again")
                broken += content(book / "site") != now
            old = content(book / "site")
        edit(book, kills)
        build_command(book / "site", book)
        left = [path.name for path in book.iterdir() if path.name.startswith(".site")]
    print(
        f"{kills} builds, {hit} of them killed: {broken} sites broken, then a build that "
        f"succeeds; left beside the site: {left or 'nothing'}"
    )


if __name__ == "__main__":
    main(*map(int, sys.argv[1:]))
