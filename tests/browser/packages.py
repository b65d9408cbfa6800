"""The npm packages of the browser tests, installed once as package-lock.json pins them."""

import hashlib
import shutil
import tempfile
from pathlib import Path

from tests.kept import KEPT, one_maker

from baybook.runtime.node import find_node, move_into_place, run

HERE = Path(__file__).parent
NPM_FILES = ("package.json", "package-lock.json", ".npmrc")


def node_modules() -> Path:
    """Return the folder of the installed packages."""
    digest = hashlib.sha256(b"".join((HERE / name).read_bytes() for name in NPM_FILES))
    installed = KEPT / f"npm-{digest.hexdigest()[:12]}"
    with one_maker():
        if not installed.exists():
            with tempfile.TemporaryDirectory(dir=KEPT) as folder:
                work = Path(folder) / "npm"
                work.mkdir()
                for name in NPM_FILES:
                    shutil.copy(HERE / name, work)
                run([*find_node().npm, "ci", "--ignore-scripts"], work)
                move_into_place(work, installed)
    return installed / "node_modules"
