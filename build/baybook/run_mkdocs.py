"""The one way in which the command line runs MkDocs."""

import time
from dataclasses import dataclass
from pathlib import Path

from mkdocs.commands import build as mkdocs_build
from mkdocs.commands import serve as mkdocs_serve
from mkdocs.config import load_config
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import Abort, PluginError

from baybook.plugin import BaybookPlugin


@dataclass(frozen=True, slots=True)
class Summary:
    """What a build made."""

    procedures: int
    pages: int
    seconds: float
    bytes: int
    index: Path


def build_site(config_file: Path, site: Path | None = None) -> Summary:
    """Build a book.

    Raises
    ------
    BadSources
        When a source is wrong; nothing is written.
    PluginError
        When something else stops MkDocs.
    """
    started = time.perf_counter()
    config = load_config(str(config_file), **({"site_dir": str(site)} if site else {}))
    plugin = _plugin(config)
    plugin.ready = book = plugin.compile(config)
    try:
        mkdocs_build.build(config)
    except Abort as stopped:
        raise PluginError(str(stopped)) from stopped
    folder = Path(config.site_dir)
    return Summary(
        procedures=len(book.sources.procedures),
        pages=len(list(folder.rglob("*.html"))),
        seconds=time.perf_counter() - started,
        bytes=sum(path.stat().st_size for path in folder.rglob("*") if path.is_file()),
        index=folder / "index.html",
    )


def serve_site(config_file: Path, address: str) -> None:
    """Serve a book with a live preview; it is built again when a source changes.

    Raises
    ------
    BadSources
        When a source is wrong at the start.
    PluginError
        When the configuration does not name the plugin once.
    """
    config = load_config(str(config_file))
    plugin = _plugin(config)
    plugin.ready = plugin.compile(config)
    mkdocs_serve.serve(str(config_file), dev_addr=address)


def _plugin(config: MkDocsConfig) -> BaybookPlugin:
    """Return the plugin of a configuration.

    Raises
    ------
    PluginError
        When the configuration does not name it, or names it twice.
    """
    found = [plugin for plugin in config.plugins.values() if isinstance(plugin, BaybookPlugin)]
    if len(found) == 1:
        return found[0]
    many = "it twice" if found else "none"
    raise PluginError(f"{config.config_file_path}: plugins: expected baybook once, got {many}")
