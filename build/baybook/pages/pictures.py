"""Pictures, films and files that a text shows: scaled where they are large, described, in place."""

import functools
import posixpath
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from markupsafe import Markup
from PIL import Image, ImageOps

from baybook.book.source_model import Connector, Part, Picture
from baybook.pages.render import html
from baybook.pages.site import href

SIZES = (800, 1600)
"""Widths to which a larger picture is scaled [px]."""

_RASTER = (".png", ".jpg", ".jpeg", ".webp")
_QUALITY = 82


def file_uri(place: str) -> str:
    """Return the address of a file by its place below the sources."""
    return f"files/{place}"


def sizes_of(place: str, path: Path) -> dict[str, int]:
    """Return the addresses of a picture with their widths, the smallest first [px]."""
    width = _size(path, path.stat().st_mtime_ns)[0]
    if path.suffix.lower() not in _RASTER or width <= SIZES[0]:
        return {file_uri(place): width}
    smaller = [size for size in SIZES if size < width]
    stem, ending = posixpath.splitext(file_uri(place))
    return {f"{stem}-{size}{ending}": size for size in smaller} | (
        {} if width > SIZES[-1] else {file_uri(place): width}
    )


@functools.lru_cache(maxsize=2000)
def _size(path: Path, _changed: int) -> tuple[int, int]:
    if path.suffix.lower() not in (*_RASTER, ".gif"):
        return 0, 0
    with Image.open(path) as picture:
        turned = picture.getexif().get(0x0112, 1) >= 5
        width, height = picture.size
        return (height, width) if turned else (width, height)


def scaled_files(files: Iterable[tuple[str, Path]], cache: Path) -> dict[str, Path]:
    """Return every file that ships, by its address; large pictures are scaled into a cache.

    A scaled picture holds no place and no camera: what a phone writes into it stays at home.
    """
    shipped: dict[str, Path] = {}
    for place, path in files:
        sizes = sizes_of(place, path)
        for uri, width in sizes.items():
            whole = uri == file_uri(place)
            shipped[uri] = path if whole else _scaled(path, width, cache / "pictures")
    return shipped


def _scaled(path: Path, width: int, cache: Path) -> Path:
    stamp = path.stat()
    goal = cache / f"{path.stem}-{width}-{stamp.st_size}-{stamp.st_mtime_ns}{path.suffix.lower()}"
    if not goal.exists():
        cache.mkdir(parents=True, exist_ok=True)
        with Image.open(path) as picture:
            upright = ImageOps.exif_transpose(picture)
            size = (width, round(upright.height * width / upright.width))
            part = goal.with_suffix(f".part{goal.suffix}")
            upright.resize(size, Image.Resampling.LANCZOS).save(part, quality=_QUALITY)
            part.replace(goal)
    return goal


def _in_line(template: str, **values: Any) -> Markup:
    """Write a block on one line, so that it stands inside a step as well as between two."""
    return Markup(" ".join(html(template, **values).split("\n")))


def picture_html(
    place: str, path: Path, page: str, picture: Picture, parts: dict[str, Part]
) -> Markup:
    """Write a picture with its caption, and the parts that it marks."""
    sizes = sizes_of(place, path)
    width, height = _size(path, path.stat().st_mtime_ns)
    largest = max(sizes.values())
    return _in_line(
        "picture.html.j2",
        source=href(list(sizes)[-1], page),
        others=[(href(uri, page), size) for uri, size in sizes.items()] if len(sizes) > 1 else [],
        width=largest or None,
        height=round(height * largest / width) if width else None,
        picture=picture,
        marks=[
            (number, parts[part].name, x, y)
            for number, (part, (x, y)) in enumerate(picture.marks.items(), 1)
            if part in parts
        ],
    )


def video_html(address: str, title: str) -> Markup:
    """Write a film with its caption; nothing plays by itself."""
    return _in_line("video.html.j2", address=address, title=title)


def file_html(address: str, name: str, title: str, size: int) -> Markup:
    """Write a link to a file with its size [B]."""
    return _in_line("file.html.j2", address=address, title=title or name, size=size)


def pins_html(connector: Connector) -> Markup:
    """Write the pins of a connector as a table."""
    return _in_line("pins.html.j2", connector=connector)


def torques_html(rows: list[tuple[str, Markup]]) -> Markup:
    """Write torques as a table."""
    return _in_line("torques.html.j2", rows=rows)
