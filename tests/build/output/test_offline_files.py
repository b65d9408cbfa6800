"""The list of what a book keeps for use without a network, and how a browser installs it."""

import json
from pathlib import Path

from baybook.output.offline import ICONS, LIST, WORKER, icon_files, web_manifest, write_offline


def site(folder: Path, text: str = "x") -> Path:
    for name in (
        "index.html",
        "assets/runtime/worker.0123.js",
        "assets/runtime/wasm.0123.js",
        "sitemap.xml.gz",
        ".baybook-site",
    ):
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(text)
    write_offline(folder)
    return folder


def test_what_only_a_folder_needs_is_left_out(tmp_path: Path) -> None:
    listed = json.loads((site(tmp_path) / LIST).read_text())
    assert sorted(listed) == ["assets/runtime/worker.0123.js", "index.html"]


def test_the_worker_changes_with_the_files_and_only_with_them(tmp_path: Path) -> None:
    first = (site(tmp_path / "one") / WORKER).read_text()
    assert first == (site(tmp_path / "two") / WORKER).read_text()
    assert first != (site(tmp_path / "three", "y") / WORKER).read_text()
    assert first.startswith('const EDITION = "')


def test_the_manifest_stays_inside_the_book() -> None:
    manifest = json.loads(web_manifest("A small book"))
    assert (manifest["start_url"], manifest["scope"]) == ("index.html", "./")
    assert [icon["src"] for icon in manifest["icons"]] == list(icon_files())
    assert all(path.is_file() for path in icon_files().values())
    assert set(ICONS.values()) == {"any", "192x192", "512x512"}
