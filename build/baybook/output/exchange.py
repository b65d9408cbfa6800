"""A new site is made beside the old one and takes its place in one step."""

import ctypes
import errno
import os
import shutil
import sys
from pathlib import Path

from baybook.leftovers import WorkingFolder, locked
from baybook.output.site_folder import mark, refuse_foreign

_AT_FDCWD = -100
_RENAME_EXCHANGE = 2


class SiteStage:
    """A folder beside the site in which a build writes; `folder` is its place."""

    def __init__(self, site: Path) -> None:
        self.site = site.resolve()
        self.site.parent.mkdir(parents=True, exist_ok=True)
        restore(self.site)
        self._working = WorkingFolder(self.site.parent, f".{self.site.name}.new-")
        self.folder = self._working.path

    def exchange(self) -> None:
        """Put the new site in the place of the old one, and remove that."""
        mark(self.folder)
        with locked(self.site.parent):
            refuse_foreign(self.site, self.site)
            if self.site.is_dir():
                shutil.copymode(self.site, self.folder)
            _swap(self.folder, self.site)
        self.discard()

    def discard(self) -> None:
        """Remove the stage, or the old site that has come to lie there."""
        self._working.remove()


def restore(site: Path) -> None:
    """Put back the old site of a build that was stopped between two renames.

    That happens only where the system cannot exchange two folders in one step.
    """
    with locked(site.parent):
        old = _old(site)
        if old.is_dir() and not site.exists():
            old.rename(site)
        shutil.rmtree(old, ignore_errors=True)


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
