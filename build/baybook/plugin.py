"""The MkDocs plugin: each event is one call into the packages below."""

import json
import logging
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from importlib.metadata import version
from pathlib import Path
from typing import Any

from markupsafe import Markup
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.plugins import BasePlugin, event_priority
from mkdocs.structure.files import File, Files, InclusionLevel
from mkdocs.structure.pages import Page as MkDocsPage
from mkdocs.structure.toc import get_toc

from baybook.book.compiled import CompiledBook, compile_book
from baybook.book.files import used_files
from baybook.book.pint_quantities import unit_table_data
from baybook.book.prose.budget import TooMuch
from baybook.book.prose.markdown_limits import markdown_problem
from baybook.book.requires import edition, requires_problem
from baybook.book.sources.problems import BadSources
from baybook.carried import Carried
from baybook.output.bill import bill_of_materials
from baybook.output.exchange import SiteStage
from baybook.output.offline import MANIFEST, icon_files, web_manifest, write_offline
from baybook.output.policy import POLICY
from baybook.output.site_folder import SiteRefused, refuse_site
from baybook.output.whole import verify_whole
from baybook.pages.cars import car_files
from baybook.pages.contents import contents
from baybook.pages.exercise_files import exercise_files
from baybook.pages.finder import insert_finder
from baybook.pages.licences import BILL
from baybook.pages.nav import expanded, in_navigation, navigation
from baybook.pages.own_car_page import own_car_file
from baybook.pages.own_page import own_page, with_mistakes
from baybook.pages.pictures import scaled_files
from baybook.pages.search import search_files
from baybook.pages.site import Page, Settings
from baybook.pages.site_pages import every_page
from baybook.pages.work_parts import work_parts
from baybook.plugin_options import BaybookConfig
from baybook.runtime.bundle import RuntimeFiles, runtime_files
from baybook.runtime.errors import RuntimeBuildError
from baybook.runtime.page_scripts import apart, book_id, joined_script, joined_style
from baybook.runtime.typeface import chosen_typeface

_log = logging.getLogger("mkdocs.plugins.baybook")
_HERE = Path(__file__).parent
_ASSETS = _HERE / "assets"
CONFIG_NAME = "mkdocs.yml"
_OWN_WORDS = "quantity, procedure or calculator with something known"
_THEME = "`pip install mkdocs-material`, then `theme: {name: material}` in mkdocs.yml"
FIRST_SCRIPT = "assets/first/before-paint.js"
"""Runs in the head of a page, before it is painted."""
APART = {"minisearch": "assets/search/engine.js", "js-yaml": "assets/cars/yaml.js"}
"""Libraries that a page reads when it needs them: address by name."""
CAR_SCRIPT = "assets/first/car.js"
"""Asks for the data of the chosen car before the page is painted."""

SCRIPT = "assets/baybook.js"
"""The script of the pages, joined from its modules."""

STYLE = "assets/baybook.css"
"""The style sheet of the pages, joined from its parts."""

TYPEFACE = "assets/typeface.css"

_OF_THE_THEME = ("assets/javascripts/", "assets/stylesheets/", "assets/images/favicon.png")

_EXTENSIONS = ("admonition", "attr_list", "def_list", "md_in_html", "tables")


class BaybookPlugin(BasePlugin[BaybookConfig]):  # type: ignore[no-untyped-call]
    """Turns the sources into pages; each event is one call into the packages below."""

    book: CompiledBook | None = None
    mistakes = ""
    """What is wrong with the sources of a preview, which shows the last good book."""

    ready: CompiledBook | None = None
    """A book that was compiled before MkDocs began; the next build takes it."""

    pages: list[Page]
    html: dict[str, Markup]
    shipped: dict[str, Path]
    written: dict[str, str]
    carried: list[Carried]
    stage: SiteStage | None = None
    preview = False
    """Whether the book is served and built again at each change, in a folder of MkDocs' own."""

    in_place = False
    """Whether MkDocs writes where it likes: into its own folder for a preview, or a dirty build."""

    def on_startup(self, *, command: str, dirty: bool) -> None:
        """Note how MkDocs was started."""
        self.preview = command == "serve"
        self.in_place = dirty or self.preview

    def sources(self, config: MkDocsConfig) -> Path:
        """Return the folder of the sources."""
        return Path(config.config_file_path).parent / self.config.sources

    def compile(self, config: MkDocsConfig) -> CompiledBook:
        """Read and check the sources.

        Raises
        ------
        BadSources
            With every mistake of every source.
        """
        options = self.config
        found = compile_book(self.sources(config), float(options.labour_per_hour), options.currency)
        found.refuse_errors()
        return found

    def _read(self, config: MkDocsConfig) -> None:
        """Read the sources; in a preview the last good book stays, with the mistakes above it."""
        last = self.book
        try:
            self.book = self.ready or self.compile(config)
            self.mistakes = ""
        except BadSources as error:
            if not self.preview or last is None:
                raise PluginError(str(error)) from error
            self.mistakes = str(error)
            _log.warning("%s", self.mistakes)
        self.ready = None
        assert self.book is not None
        for warning in self.book.problems if not self.mistakes else ():
            _log.warning("%s", warning)

    @event_priority(50)
    def on_config(self, config: MkDocsConfig) -> MkDocsConfig:
        """Read and check the sources; nothing is built when one is wrong."""
        if config.theme.name != "material":
            raise PluginError(f"expected the theme material, got {config.theme.name}: {_THEME}")
        problem = requires_problem(self.config.requires)
        if problem:
            raise PluginError(f"{CONFIG_NAME}: plugins: baybook: requires: {': '.join(problem)}")
        if not self.preview:
            _refuse_site(config, self.sources(config))
        self._read(config)
        config.watch.append(str(self.sources(config)))
        config.theme.dirs.insert(0, str(_HERE / "overrides"))
        config.markdown_extensions += [
            name for name in _EXTENSIONS if name not in config.markdown_extensions
        ]
        config.mdx_configs.setdefault("toc", {}).setdefault("permalink", True)
        runtime = _runtime(config)
        self.shipped = _shipped(runtime)
        assert self.book is not None
        used = used_files(self.book.sources)
        pictures = [(place, self.book.sources.files[place]) for place in sorted(used)]
        self.shipped |= scaled_files(pictures, _cache(config))
        self.written = {
            MANIFEST: web_manifest(config.site_name),
            BILL: bill_of_materials(runtime.carried, config.site_name, version("baybook")),
            SCRIPT: work_parts() + joined_script(_every_page_has(runtime.libraries)),
            **{uri: apart(name, runtime.libraries[name]) for name, uri in APART.items()},
            STYLE: joined_style(),
            TYPEFACE: _typeface(config, self.config.typeface, runtime),
        }
        config.extra_css[:0] = [TYPEFACE, STYLE]
        config.extra_javascript += [f"assets/runtime/{runtime.client.name}", SCRIPT]
        config.extra.setdefault("first_scripts", []).extend((FIRST_SCRIPT, CAR_SCRIPT))
        config.extra.setdefault("book", book_id(config.site_name))
        config.extra.setdefault("edition", edition(self.sources(config)))
        config.extra |= {"policy": POLICY, "manifest": MANIFEST, "kept_offline": not self.in_place}
        self.carried = runtime.carried
        self._open_stage(config)
        return config

    @event_priority(-50)
    def on_files(self, files: Files, *, config: MkDocsConfig) -> Files:
        """Add the generated pages, the assets and the browser's Python."""
        settings = Settings(
            float(self.config.labour_per_hour),
            self.config.currency,
            self.config.for_authors,
            self.config.safe,
        )
        _refuse_pipes(files)
        assert self.book is not None
        for file in [file for file in files if file.src_uri.startswith(_OF_THE_THEME)]:
            files.remove(file)  # no page of the book asks for it
        try:
            self.pages = every_page(self.book, settings, _cache(config), self.carried)
        except (TooMuch, BadSources) as error:
            raise PluginError(str(error)) from error
        self.html = {page.uri: page.html for page in self.pages if page.html is not None}
        for page in self.pages:
            source = page.source() if page.html is None else page.front_matter()
            level = InclusionLevel.UNDEFINED if in_navigation(page) else InclusionLevel.NOT_IN_NAV
            files.append(File.generated(config, page.uri, content=source, inclusion=level))
        for uri, path in self.shipped.items():
            files.append(
                File.generated(
                    config, uri, abs_src_path=str(path), inclusion=InclusionLevel.NOT_IN_NAV
                )
            )
        for files_of in (car_files, search_files, own_car_file, exercise_files):
            self.written |= files_of(self.book, self.pages)
        for uri, text in self.written.items():
            files.append(
                File.generated(config, uri, content=text, inclusion=InclusionLevel.NOT_IN_NAV)
            )
        generated = {page.uri for page in self.pages}
        written = [file.src_uri for file in files.documentation_pages()]
        own = [uri for uri in written if uri not in generated]
        config.nav = expanded(config.nav, self.pages) or navigation(self.pages, own)
        return files

    def on_page_markdown(self, markdown: str, *, page: MkDocsPage, **_: Any) -> str:
        """Fill in a page written by hand; refuse one that would take too long to read."""
        if page.file.generated_by:
            return markdown
        slow = markdown_problem(markdown)
        if slow:
            raise PluginError(f"{page.file.src_uri}: {slow[1]}")
        assert self.book is not None
        text, unknown = own_page(markdown, self.book.sources, page.file.src_uri)
        for line, word in unknown:
            where = f"{page.file.src_uri}:{line}"
            _log.warning("%s: expected %s, got %s", where, _OWN_WORDS, word)
        return text

    def on_page_content(self, html: str, *, page: MkDocsPage, **_: Any) -> str:
        """Give a page its HTML, and put the field of the home page where its place is marked."""
        uri = page.file.src_uri
        written = self.html.get(uri)
        if written is None:
            assert self.book is not None
            return insert_finder(html, self.book.sources, uri)
        page.toc = get_toc(contents(written))  # type: ignore[arg-type]
        return written

    def on_post_page(self, output: str, **_: Any) -> str:
        """Show the mistakes of the sources above each page of a preview."""
        return with_mistakes(output, self.mistakes) if self.mistakes else output

    @event_priority(-100)
    def on_post_build(self, config: MkDocsConfig) -> None:
        """Put the new site in the place of the old one, once all of it is there."""
        if self.stage:
            with _told():
                verify_whole(self.stage.folder, [page.uri for page in self.pages], self.shipped)
                write_offline(self.stage.folder)
                self.stage.exchange()
            config.site_dir = str(self.stage.site)
            self.stage = None

    def on_build_error(self, error: Exception) -> None:
        """Leave the old site as it is, and say in a sentence what the disk refused."""
        if self.stage:
            self.stage.discard()
            self.stage = None
        if isinstance(error, OSError):
            raise PluginError(_refused(error)) from error

    def _open_stage(self, config: MkDocsConfig) -> None:
        """Let MkDocs write beside the site."""
        if self.stage:
            self.stage.discard()
        self.stage = None
        if not self.in_place:
            with _told():
                self.stage = SiteStage(Path(config.site_dir))
            config.site_dir = str(self.stage.folder)


def _refuse_pipes(files: Files) -> None:
    """Refuse what would be read for ever."""
    for file in files:
        if file.abs_src_path and not Path(file.abs_src_path).is_file():
            raise PluginError(f"{file.src_uri}: expected a file, got a pipe, a device or nothing")


def _refuse_site(config: MkDocsConfig, sources: Path) -> None:
    folder = Path(config.config_file_path).parent
    own = {"sources": sources, "pages written by hand": Path(config.docs_dir)}
    if config.theme.custom_dir:
        own["changes to the theme"] = Path(config.theme.custom_dir)
    with _told():
        refuse_site(Path(config.site_dir), own, folder)


@contextmanager
def _told() -> Iterator[None]:
    """Let MkDocs say in one sentence what a folder or the disk refuses."""
    try:
        yield
    except SiteRefused as error:
        raise PluginError(str(error)) from error
    except OSError as error:
        raise PluginError(_refused(error)) from error


def _refused(error: OSError) -> str:
    place = f" {error.filename}" if error.filename else ""
    return f"cannot write the book: {error.strerror or error}{place}"


def _every_page_has(libraries: Mapping[str, str]) -> dict[str, str]:
    return {name: text for name, text in libraries.items() if name not in APART}


def _cache(config: MkDocsConfig) -> Path:
    return Path(config.config_file_path).parent / ".cache" / "baybook"


def _runtime(config: MkDocsConfig) -> RuntimeFiles:
    """Make the browser's Python, or take it from the cache."""
    cache = _cache(config)
    try:
        return runtime_files(cache, json.dumps(unit_table_data()))
    except RuntimeBuildError as error:
        raise PluginError(str(error)) from error


def _typeface(config: MkDocsConfig, choice: str, runtime: RuntimeFiles) -> str:
    """Return the style sheet of the typeface that the configuration names."""
    try:
        return chosen_typeface(choice, Path(config.config_file_path).parent, runtime.typeface)
    except RuntimeBuildError as error:
        raise PluginError(str(error)) from error


def _shipped(runtime: RuntimeFiles) -> dict[str, Path]:
    """Return the files that ship beside the pages: place on disk by address."""
    assets = {f"assets/{path.name}": path for path in sorted(_ASSETS.glob("*.*"))}
    assets |= {f"assets/first/{path.name}": path for path in (_ASSETS / "first").glob("*.js")}
    assets |= icon_files()
    return assets | {f"assets/runtime/{path.name}": path for path in runtime.sizes}
