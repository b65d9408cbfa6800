"""Folders in which work is done: locked while in use, so that what a stopped build left is swept.

The system takes a lock back when its holder ends, however that is.
"""

import os
import shutil
import sys
import uuid
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path


class WorkingFolder:
    """A new folder inside another one, removed in the end.

    `path` is the folder.
    """

    def __init__(self, parent: Path, prefix: str) -> None:
        parent.mkdir(parents=True, exist_ok=True)
        with locked(parent):
            sweep(parent, prefix)
            self.path = parent / f"{prefix}{uuid.uuid4().hex[:12]}"
            self.path.mkdir()
            self._lock = _try_lock(self.path)

    def remove(self) -> None:
        """Remove the folder, or what has come to lie there."""
        shutil.rmtree(self.path, ignore_errors=True)
        if self._lock is not None:
            _unlock(self._lock)
            self._lock = None


@contextmanager
def working_folder(parent: Path, prefix: str) -> Iterator[Path]:
    """Give a new folder, and remove it in the end."""
    folder = WorkingFolder(parent, prefix)
    try:
        yield folder.path
    finally:
        folder.remove()


def sweep(parent: Path, prefix: str) -> None:
    """Remove the folders of this prefix that nobody holds."""
    for left in [path for path in parent.iterdir() if path.name.startswith(prefix)]:
        lock = _try_lock(left)
        if lock is not None:
            shutil.rmtree(left, ignore_errors=True)
            _unlock(lock)


if sys.platform == "win32":  # pragma: no cover

    def _try_lock(folder: Path) -> int | None:
        """Give up on locks: Windows removes no folder in which a file is open."""
        return 0 if folder.is_dir() else None

    def _unlock(_lock: int) -> None:
        """Nothing was locked."""

    @contextmanager
    def locked(_folder: Path) -> Iterator[None]:
        """Go ahead."""
        yield

else:
    import fcntl

    def _try_lock(folder: Path) -> int | None:
        """Lock a folder, or return nothing where another one holds it."""
        try:
            lock = os.open(folder, os.O_RDONLY)
        except OSError:
            return None
        try:
            fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            os.close(lock)
            return None
        return lock

    def _unlock(lock: int) -> None:
        os.close(lock)

    @contextmanager
    def locked(folder: Path) -> Iterator[None]:
        """Hold a folder: who wants it too waits."""
        lock = os.open(folder, os.O_RDONLY)
        try:
            fcntl.flock(lock, fcntl.LOCK_EX)
            yield
        finally:
            os.close(lock)
