"""The folder of a built book: what may be replaced, and what is never touched."""

import os
from collections.abc import Iterable, Mapping
from pathlib import Path

MARK = ".baybook-site"
"""Lists every file that a build wrote; a folder without it is not ours to empty."""

_NAMED = 3
"""Files that a refusal names."""


class SiteRefused(Exception):
    """The folder holds, or would destroy, what no build wrote: one sentence with a hint."""

    def __init__(self, text: str, hint: str) -> None:
        super().__init__(f"{text}\n    hint: {hint}")


def refuse_site(site: Path, own: Mapping[str, Path], config: Path) -> None:
    """Refuse a site folder in which something of the user's would be lost.

    Parameters
    ----------
    site : Path
        Folder that the build would replace.
    own : Mapping[str, Path]
        Folders of the user by what they are; none may be, hold or lie in the site.
    config : Path
        Folder of the configuration, in which the site may lie.

    Raises
    ------
    SiteRefused
        When it is one of them, or holds files that no build wrote.
    """
    target = site.resolve()
    for what, folder in {**own, "configuration": config}.items():
        relation = _relation(target, folder.resolve())
        if relation and not (relation == "lies in" and what == "configuration"):
            raise SiteRefused(
                f"expected a folder of its own for the site, got {site}, "
                f"which {relation} the folder of the {what}",
                "choose a new folder, such as site",
            )
    if target.exists() and not target.is_dir():
        raise SiteRefused(f"expected a folder for the site, got the file {site}", "choose another")
    refuse_foreign(target, site)


def _relation(site: Path, folder: Path) -> str:
    if site == folder:
        return "is"
    if folder.is_relative_to(site):
        return "holds"
    return "lies in" if site.is_relative_to(folder) else ""


def refuse_foreign(target: Path, shown: Path) -> None:
    """Refuse a folder with files that no build wrote.

    Raises
    ------
    SiteRefused
        With some of them named.
    """
    foreign = foreign_files(target)
    if foreign:
        named = ", ".join(foreign[:_NAMED]) + (", ..." if len(foreign) > _NAMED else "")
        many = f"{len(foreign)} files or folders" if len(foreign) > 1 else "something"
        raise SiteRefused(
            f"expected an empty folder or a built book for the site, got {shown}, "
            f"which holds {many} that no build wrote: {named}",
            "move what you want to keep, delete the folder yourself, or choose another",
        )


def foreign_files(target: Path) -> list[str]:
    """Return what a folder holds that no build wrote, links among it, in order of names."""
    if not target.is_dir():
        return []
    try:
        written = set((target / MARK).read_text("utf-8").splitlines())
    except (OSError, UnicodeDecodeError):
        return sorted(path.name for path in target.iterdir())
    return sorted(set(files_below(target)) - written - {MARK})


def files_below(folder: Path) -> Iterable[str]:
    """Give the path of every file and link below a folder; a link is not followed."""
    for place, folders, names in os.walk(folder):
        links = [name for name in folders if (Path(place) / name).is_symlink()]
        below = Path(place).relative_to(folder)
        for name in (*names, *links):
            yield (below / name).as_posix()


def mark(folder: Path) -> None:
    """Mark a folder as a built book, with the list of what it holds."""
    names = sorted(name for name in files_below(folder) if name != MARK)
    (folder / MARK).write_text("".join(f"{name}\n" for name in names), "utf-8")
