"""A new site is made beside the old one and takes its place in one step."""

import ctypes
import errno
import os
import shutil
import sys
import uuid
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from baybook.output.site_folder import mark, refuse_foreign

_AT_FDCWD = -100
_RENAME_EXCHANGE = 2


class Stage:
    """A folder beside the site in which a build writes.

    A build holds a lock on its stage, which the system takes back when the build ends, however
    that is: a stage without one is a leftover, and the next build sweeps it.
    """

    def __init__(self, site: Path) -> None:
        self.site = site.resolve()
        self.site.parent.mkdir(parents=True, exist_ok=True)
        with _locked(self.site.parent):
            sweep(self.site)
            self.folder = self.site.parent / f"{_prefix(self.site)}{uuid.uuid4().hex[:12]}"
            self.folder.mkdir()
            self._lock = _try_lock(self.folder)

    def exchange(self) -> None:
        """Put the new site in the place of the old one, and remove that."""
        mark(self.folder)
        with _locked(self.site.parent):
            refuse_foreign(self.site, self.site)
            if self.site.is_dir():
                shutil.copymode(self.site, self.folder)
            _swap(self.folder, self.site)
        self.discard()

    def discard(self) -> None:
        """Remove the stage, or the old site that has come to lie there."""
        shutil.rmtree(self.folder, ignore_errors=True)
        _unlock(self._lock)
        self._lock = None


def sweep(site: Path) -> None:
    """Remove what builds that were stopped have left beside a site.

    A build that was stopped between the two steps of a system without the exchange has left the
    whole old site under another name: it is put back.
    """
    old = _old(site)
    if old.is_dir() and not site.exists():
        old.rename(site)
    shutil.rmtree(old, ignore_errors=True)
    for left in [path for path in site.parent.iterdir() if path.name.startswith(_prefix(site))]:
        lock = _try_lock(left)
        if lock is not None:
            shutil.rmtree(left, ignore_errors=True)
            _unlock(lock)


def _prefix(site: Path) -> str:
    return f".{site.name}.new-"


def _old(site: Path) -> Path:
    return site.with_name(f".{site.name}.old")


def _swap(new: Path, site: Path) -> None:
    """Exchange two folders; the second need not be there."""
    if site.is_dir() and any(site.iterdir()):
        if not _exchanged(new, site):
            _in_two_steps(new, site)
        return
    if site.is_dir():
        site.rmdir()
    new.rename(site)


def _exchanged(one: Path, other: Path) -> bool:
    """Exchange two names at once where the system can."""
    if not sys.platform.startswith("linux"):
        return False
    libc = ctypes.CDLL(None, use_errno=True)
    if not hasattr(libc, "renameat2"):
        return False
    words = (_AT_FDCWD, os.fsencode(one), _AT_FDCWD, os.fsencode(other), _RENAME_EXCHANGE)
    if libc.renameat2(*words) == 0:
        return True
    code = ctypes.get_errno()
    if code in (errno.EINVAL, errno.ENOSYS):
        return False  # this file system cannot
    raise OSError(code, os.strerror(code), str(other))


def _in_two_steps(new: Path, site: Path) -> None:
    old = _old(site)
    shutil.rmtree(old, ignore_errors=True)
    site.rename(old)
    new.rename(site)
    shutil.rmtree(old, ignore_errors=True)


if sys.platform == "win32":  # pragma: no cover

    def _try_lock(folder: Path) -> int | None:
        """Give up on locks: Windows removes no folder in which a file is open."""
        return 0 if folder.is_dir() else None

    def _unlock(lock: int | None) -> None:
        """Nothing was locked."""

    @contextmanager
    def _locked(_folder: Path) -> Iterator[None]:
        yield

else:
    import fcntl

    def _try_lock(folder: Path) -> int | None:
        """Lock a folder, or return nothing where another build holds it."""
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

    def _unlock(lock: int | None) -> None:
        if lock is not None:
            os.close(lock)

    @contextmanager
    def _locked(folder: Path) -> Iterator[None]:
        """Hold a folder while a stage is made in it: two builds come one after the other."""
        lock = os.open(folder, os.O_RDONLY)
        try:
            fcntl.flock(lock, fcntl.LOCK_EX)
            yield
        finally:
            os.close(lock)
