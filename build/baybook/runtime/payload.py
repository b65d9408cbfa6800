"""The files that ship: the client script, the workers, and the parts of the runtime.

Over http a part is a file. `fetch()` cannot read a ``file://`` address while a script tag can, so
every part is there a second time, as text in a classic script.
"""

import base64
import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from baybook.runtime.errors import RuntimeBuildError

ASSETS = Path(__file__).parents[1] / "assets" / "runtime"
# Joined in this order they are the one script that a page names.
CLIENT_PARTS = ("files.js", "process.js", "client.js")


BEST = 12
"""The level at which a byte costs the most time and the least room [-]."""


def zipped(data: bytes) -> bytes:
    """Compress; the same data give the same bytes."""
    try:
        import deflate
    except ImportError as error:
        raise RuntimeBuildError(
            "the browser's Python needs the package deflate to be built and found none: "
            "run: pip install 'baybook[runtime]'"
        ) from error
    return bytes(deflate.gzip_compress(data, BEST))


def text_of(data: bytes) -> str:
    """Write bytes as text that a script can hold."""
    return base64.b64encode(data).decode("ascii")


def write_payload(folder: Path, name: str, edition: str, files: Mapping[str, bytes]) -> None:
    """Write one payload: its files, and a script that hands them to the client as text.

    Parameters
    ----------
    folder : Path
        Folder to write into.
    name : str
        Name by which the client asks for the payload.
    edition : str
        Part of the names of the files: a cache never mixes two builds.
    files : Mapping[str, bytes]
        Each file by its name; the name of a zipped one ends in ``.gz``.
    """
    for file, data in files.items():
        (folder / f"{file}.{edition}.bin").write_bytes(data)
    _write_script(folder, name, edition, {file: text_of(data) for file, data in files.items()})


def write_workers(folder: Path, edition: str, engine: str) -> None:
    """Write the workers, each a script of its own, and both as text in one script.

    Parameters
    ----------
    folder : Path
        Folder to write into.
    edition : str
        Part of the names of the files.
    engine : str
        Pyodide's own scripts; the Python worker begins with them.
    """
    workers = {"worker.js": f"{engine}\n{_asset('worker.js')}", "unpacker.js": _asset("unpack.js")}
    for file, text in workers.items():
        (folder / f"{Path(file).stem}.{edition}.js").write_text(text, encoding="utf-8")
    _write_script(folder, "workers", edition, workers)


def _write_script(folder: Path, name: str, edition: str, files: Mapping[str, str]) -> None:
    script = f"baybook.payload({json.dumps(name)}, {json.dumps(files)});\n"
    (folder / f"{name}.{edition}.js").write_text(script, encoding="ascii")


def write_client(script: Path, build: Mapping[str, Any]) -> None:
    """Write the client, the one script that a page names.

    Parameters
    ----------
    script : Path
        File to write.
    build : Mapping[str, Any]
        What the client must know of the build: ``edition``, ``lock``, ``snapshotBytes``,
        ``memory``, the ``files`` of each payload, and the ``oldest`` browsers that serve.
    """
    parts = "\n".join(_asset(name) for name in CLIENT_PARTS)
    # The braces keep the names of the parts out of the page's own.
    text = f'"use strict";\n{{\nconst BUILD = {json.dumps(build)};\n\n{parts}}}\n'
    script.write_text(text, encoding="utf-8")


def _asset(name: str) -> str:
    return (ASSETS / name).read_text(encoding="utf-8")
