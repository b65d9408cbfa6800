"""The MkDocs plugin, and the one way in which the command line runs MkDocs."""

import json
import time
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from mkdocs.commands import build as mkdocs_build
from mkdocs.commands import serve as mkdocs_serve
from mkdocs.config import load_config
from mkdocs.config.base import Config
from mkdocs.config.config_options import Type
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import Abort, PluginError
from mkdocs.plugins import BasePlugin, event_priority
from mkdocs.structure.files import File, Files, InclusionLevel
from mkdocs.structure.pages import Page as MkDocsPage

from baybook.book.checks.check_book import check_book
from baybook.book.pint_quantities import unit_table_data
from baybook.book.simulated import SimulatedBook, kept_figures
from baybook.book.sources.load import Book, load_book
from baybook.book.sources.problems import BadSources
from baybook.pages.finder import insert_finder
from baybook.pages.nav import navigation
from baybook.pages.site import Page, Settings
from baybook.pages.site_pages import every_page
from baybook.runtime.bundle import RuntimeFiles, build_runtime
from baybook.runtime.errors import RuntimeBuildError
from baybook.runtime.vendored import vendored
from baycalc import api

_HERE = Path(__file__).parent
_ASSETS = _HERE / "assets"
FIRST_SCRIPT = "assets/first/native-worker.js"
"""Runs before the theme's scripts."""

SCRIPTS = (
    "search-name",
    "folding",
    "units-switch",
    "verdict",
    "redraw",
    "calculator-form",
    "finder",
    "carry-code",
    "bay",
    "reading",
    "sheet-format",
    "sheet-store",
    "sheet-file",
    "job",
    "bench-panel",
    "sheet-page",
)
"""The scripts of the pages, each after those that it uses."""

_EXTENSIONS = ("admonition", "attr_list", "def_list", "md_in_html", "tables")


class BaybookConfig(Config):  # type: ignore[no-untyped-call]
    """The plugin's options in ``mkdocs.yml``."""

    sources = Type(str, default="procedures")
    labour_per_hour = Type((int, float), default=60)
    currency = Type(str, default="$")
    for_authors = Type(bool, default=True)


class BaybookPlugin(BasePlugin[BaybookConfig]):  # type: ignore[no-untyped-call]
    """Turns the sources into pages; each event is one call into the packages below."""

    book: Book
    simulated: SimulatedBook
    pages: list[Page]
    shipped: dict[str, Path]

    @event_priority(50)
    def on_config(self, config: MkDocsConfig) -> MkDocsConfig:
        """Read and check the sources; nothing is built when one is wrong."""
        sources = Path(config.config_file_path).parent / self.config.sources
        api.install(unit_table_data())
        self.book = checked_book(sources)
        self.simulated = kept_figures(sources)
        config.watch.append(str(sources))
        config.theme.dirs.insert(0, str(_HERE / "overrides"))
        config.markdown_extensions += [
            name for name in _EXTENSIONS if name not in config.markdown_extensions
        ]
        config.mdx_configs.setdefault("toc", {}).setdefault("permalink", True)
        runtime = _runtime(config)
        self.shipped = _shipped(runtime)
        config.extra_css += [uri for uri in self.shipped if uri.endswith(".css")]
        config.extra_javascript += [f"assets/runtime/{runtime.client.name}"]
        config.extra_javascript += [f"assets/{name}.js" for name in SCRIPTS]
        config.extra.setdefault("polyfills", []).extend(
            (FIRST_SCRIPT, f"assets/runtime/{runtime.search_shim.name}")
        )
        return config

    @event_priority(-50)
    def on_files(self, files: Files, *, config: MkDocsConfig) -> Files:
        """Add the generated pages, the assets and the browser's Python."""
        settings = Settings(
            float(self.config.labour_per_hour), self.config.currency, self.config.for_authors
        )
        self.pages = every_page(self.book, settings, _cache(config), self.simulated, vendored())
        for page in self.pages:
            files.append(File.generated(config, page.uri, content=page.source()))
        for uri, path in self.shipped.items():
            files.append(
                File.generated(
                    config, uri, abs_src_path=str(path), inclusion=InclusionLevel.NOT_IN_NAV
                )
            )
        if not config.nav:
            generated = {page.uri for page in self.pages}
            written = [file.src_uri for file in files.documentation_pages()]
            config.nav = navigation(self.pages, [uri for uri in written if uri not in generated])
        return files

    def on_page_markdown(self, markdown: str, *, page: MkDocsPage, **_: Any) -> str:
        """Put the field of the home page where the author marked its place."""
        return insert_finder(markdown, self.book, page.file.src_uri)


def checked_book(sources: Path) -> Book:
    """Read and check the sources of a book.

    Raises
    ------
    PluginError
        With every mistake of every source in its text.
    """
    book = load_book(sources)
    calculators = {name: api.describe(name) for name in api.names()}
    mistakes = [problem for problem in check_book(book, calculators) if problem.severity == "error"]
    if mistakes:
        raise PluginError(str(BadSources(mistakes)))
    return book


def _cache(config: MkDocsConfig) -> Path:
    return Path(config.config_file_path).parent / ".cache" / "baybook"


def _runtime(config: MkDocsConfig) -> RuntimeFiles:
    """Make the browser's Python, or take it from the cache."""
    cache = _cache(config)
    try:
        return build_runtime(cache / "shipped", cache, json.dumps(unit_table_data()))
    except RuntimeBuildError as error:
        raise PluginError(str(error)) from error


def _shipped(runtime: RuntimeFiles) -> dict[str, Path]:
    """Return the files that ship beside the pages: place on disk by address."""
    assets = {f"assets/{path.name}": path for path in sorted(_ASSETS.glob("*.*"))}
    assets[FIRST_SCRIPT] = _ASSETS / "first" / "native-worker.js"
    return assets | {f"assets/runtime/{path.name}": path for path in runtime.sizes}


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
    PluginError
        When a source is wrong; nothing is written.
    """
    started = time.perf_counter()
    config = _config(config_file, site)
    try:
        mkdocs_build.build(config)
    except Abort as stopped:
        raise PluginError(str(stopped)) from stopped
    plugin = config.plugins["baybook"]
    assert isinstance(plugin, BaybookPlugin)
    folder = Path(config.site_dir)
    return Summary(
        procedures=len(plugin.book.procedures),
        pages=len(list(folder.rglob("*.html"))),
        seconds=time.perf_counter() - started,
        bytes=sum(path.stat().st_size for path in folder.rglob("*") if path.is_file()),
        index=folder / "index.html",
    )


def serve_site(config_file: Path, address: str) -> None:
    """Serve a book with a live preview; it is built again when a source changes."""
    mkdocs_serve.serve(str(config_file), dev_addr=address)


def _config(config_file: Path, site: Path | None) -> MkDocsConfig:
    return load_config(str(config_file), **({"site_dir": str(site)} if site else {}))
