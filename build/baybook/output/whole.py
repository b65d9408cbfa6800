"""Whether a new site is whole, before it takes the place of the old one."""

import errno
from collections.abc import Iterable, Mapping
from pathlib import Path


def verify_whole(folder: Path, pages: Iterable[str], shipped: Mapping[str, Path]) -> None:
    """Check that every page and every file that ships has been written.

    Parameters
    ----------
    folder : Path
        The new site.
    pages : Iterable[str]
        Addresses of the pages, as Markdown.
    shipped : Mapping[str, Path]
        The files that ship beside them: place on disk by address.

    Raises
    ------
    OSError
        When a page is missing, or a file is not as long as it should be.
    """
    for uri in pages:
        name = uri.removesuffix(".md")
        if not any((folder / page).is_file() for page in (f"{name}.html", f"{name}/index.html")):
            raise OSError(errno.EIO, "a page was not written:", uri)
    for uri, path in shipped.items():
        written = folder / uri
        if not written.is_file() or written.stat().st_size != path.stat().st_size:
            raise OSError(errno.EIO, "a file was not written whole:", uri)
