"""A small book for tests that need one of their own: two editions of it, built once."""

import shutil
import subprocess
import sys
from pathlib import Path

from tests.kept import ROOT, RUNTIME_CACHE, one_maker

CONFIG = """site_name: A small book
use_directory_urls: false
theme: {name: material, font: false}
plugins: [baybook]
"""
SOURCES = ROOT / "tests" / "wrong_sources" / "base" / "procedures"


def lay_out(book: Path) -> Path:
    """Write the sources of the small book into a folder, with the runtime of the demo book."""
    shutil.copytree(SOURCES, book / "procedures")
    (book / "docs").mkdir()
    (book / "docs" / "index.md").write_text("# Home\n\n<!-- finder -->\n")
    (book / "mkdocs.yml").write_text(CONFIG)
    (book / ".cache").mkdir()
    (book / ".cache" / "baybook").symlink_to(RUNTIME_CACHE)
    return book


def build(book: Path, title: str = "Air pump") -> Path:
    """Build an edition whose procedure has a title; return its site."""
    source = book / "procedures" / "air.md"
    lines = source.read_text().split("\n")
    lines[1] = f"title: {title}"
    source.write_text("\n".join(lines))
    site = book / f"site {title}"
    command = [Path(sys.executable).parent / "baybook", "build", "--site", site]
    with one_maker():
        subprocess.run(command, cwd=book, check=True, stdout=subprocess.DEVNULL)
    return site
