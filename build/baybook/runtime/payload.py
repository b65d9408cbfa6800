"""The files that ship: the client script, and the parts of the runtime carried in scripts.

`fetch()` cannot read a ``file://`` address while a script tag can, so every part travels as text
in a classic script, the same for all targets.
"""

import base64
import gzip
import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

ASSETS = Path(__file__).parents[1] / "assets" / "runtime"
# Joined in this order they are the one script that a page names.
CLIENT_PARTS = ("payloads.js", "process.js", "client.js")


def zipped(data: bytes) -> bytes:
    """Compress; the same data give the same bytes."""
    return gzip.compress(data, compresslevel=9, mtime=0)


def text_of(data: bytes) -> str:
    """Write bytes as text that a script can hold."""
    return base64.b64encode(data).decode("ascii")


def write_payload(folder: Path, name: str, edition: str, files: Mapping[str, str]) -> None:
    """Write one payload, a script that hands its files to the client.

    Parameters
    ----------
    folder : Path
        Folder to write into.
    name : str
        Name by which the client asks for the payload.
    edition : str
        Part of the file name: a cache never mixes two builds.
    files : Mapping[str, str]
        Text of each file by its name; the name of a zipped one ends in ``.gz``.
    """
    script = f"baybook.payload({json.dumps(name)}, {json.dumps(files)});\n"
    (folder / f"{name}.{edition}.js").write_text(script, encoding="ascii")


def write_client(script: Path, build: Mapping[str, Any]) -> None:
    """Write the client, the one script that a page names.

    Parameters
    ----------
    script : Path
        File to write.
    build : Mapping[str, Any]
        What the client must know of the build: ``edition``, ``lock``, ``snapshotBytes`` and
        the ``files`` of each payload.
    """
    constants = {**build, "unpacker": _asset("unpack.js"), "worker": _asset("worker.js")}
    parts = "\n".join(_asset(name) for name in CLIENT_PARTS)
    # The braces keep the names of the parts out of the page's own.
    text = f'"use strict";\n{{\nconst BUILD = {json.dumps(constants)};\n\n{parts}}}\n'
    script.write_text(text, encoding="utf-8")


def _asset(name: str) -> str:
    return (ASSETS / name).read_text(encoding="utf-8")
