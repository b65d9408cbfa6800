"""The book without a network: a service worker that keeps its files, and how it is installed."""

import hashlib
import json
import re
from collections.abc import Iterable
from pathlib import Path

from baybook.output.site_folder import files_below

ASSETS = Path(__file__).parents[1] / "assets" / "offline"
WORKER = "baybook-offline.js"
LIST = "baybook-files.json"
MANIFEST = "book.webmanifest"
ICONS = {"icon.svg": "any", "icon-192.png": "192x192", "icon-512.png": "512x512"}

_ONLY_FROM_A_FOLDER = re.compile(r"assets/runtime/(?:wasm|snapshot|plain|workers)\.\w+\.js")
_LEFT_OUT = (WORKER, LIST)


def icon_files() -> dict[str, Path]:
    """Return the icons by their addresses."""
    return {f"assets/offline/{name}": ASSETS / name for name in ICONS}


def web_manifest(name: str) -> str:
    """Write the manifest by which a browser installs the book."""
    icons = [
        {"src": f"assets/offline/{icon}", "sizes": sizes, "purpose": "any maskable"}
        for icon, sizes in ICONS.items()
    ]
    manifest = {
        "name": name,
        "short_name": name[:12].strip(),
        "start_url": "index.html",
        "scope": "./",
        "display": "standalone",
        "background_color": "#ffffff",
        "theme_color": "#1f2a30",
        "icons": icons,
    }
    return json.dumps(manifest, indent=2, ensure_ascii=False) + "\n"


def write_offline(folder: Path) -> None:
    """Write the list of a site's files with their hashes, and the worker of that edition.

    Parameters
    ----------
    folder : Path
        The new site, with all else in it.
    """
    files = {name: _hash(folder / name) for name in sorted(_kept(files_below(folder)))}
    text = json.dumps(files, indent=0)
    edition = hashlib.sha256(text.encode()).hexdigest()[:16]
    (folder / LIST).write_text(text, encoding="utf-8")
    worker = (ASSETS / "service-worker.js").read_text(encoding="utf-8")
    (folder / WORKER).write_text(f'const EDITION = "{edition}";\n{worker}', encoding="utf-8")


def _kept(names: Iterable[str]) -> Iterable[str]:
    for name in names:
        hidden = any(part.startswith(".") for part in name.split("/"))
        packed = name.endswith((".gz", ".map"))
        if not (hidden or packed or name in _LEFT_OUT or _ONLY_FROM_A_FOLDER.fullmatch(name)):
            yield name


def _hash(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()[:16]
