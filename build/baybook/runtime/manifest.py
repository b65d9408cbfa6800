"""A folder of the cache is believed only while it is as it was made."""

import hashlib
import json
from pathlib import Path

MANIFEST = "contents.json"
"""Holds the size and the hash of every other file of its folder."""


def seal(folder: Path) -> None:
    """Write down what a folder holds, once all of it is there."""
    (folder / MANIFEST).write_text(json.dumps(_contents(folder), indent=0), encoding="utf-8")


def is_whole(folder: Path) -> bool:
    """Tell whether a folder is there and holds what it held when it was sealed."""
    try:
        return bool(json.loads((folder / MANIFEST).read_bytes()) == _contents(folder))
    except (OSError, ValueError):
        return False


def _contents(folder: Path) -> dict[str, list[int | str]]:
    return {
        path.relative_to(folder).as_posix(): _entry(path)
        for path in sorted(folder.rglob("*"))
        if path.is_file() and path != folder / MANIFEST
    }


def _entry(path: Path) -> list[int | str]:
    data = path.read_bytes()
    return [len(data), hashlib.sha256(data).hexdigest()]
