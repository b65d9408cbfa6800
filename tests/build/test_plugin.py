"""The MkDocs plugin: one site however it is built, the same bytes twice, nothing half-written."""

import hashlib
import json
import subprocess
import sys
from pathlib import Path

import pytest
from tests.kept import RUNTIME_CACHE, one_maker

from baybook.book.pint_quantities import unit_table_data
from baybook.output.site_folder import MARK, mark
from baybook.runtime import build_runtime

ROOT = Path(__file__).parents[2]
PROGRAMS = Path(sys.executable).parent
CONFIG = """site_name: A small book
use_directory_urls: false
theme: {name: material, font: false}
plugins: [search, offline, baybook]
"""
HOME = "# Home\n\n<!-- finder -->\n"

Files = dict[str, str]


@pytest.fixture(scope="session")
def runtime_cache(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The cache of the demo book, with the browser's Python in it."""
    folder = tmp_path_factory.mktemp("shipped")
    with one_maker():
        build_runtime(folder, RUNTIME_CACHE, json.dumps(unit_table_data()), progress=lambda _: None)
    return RUNTIME_CACHE


@pytest.fixture
def folder(book_folder: Path, runtime_cache: Path) -> Path:
    """A small book, which takes the browser's Python from the cache of the demo book."""
    (book_folder / "mkdocs.yml").write_text(CONFIG)
    (book_folder / "docs").mkdir()
    (book_folder / "docs" / "index.md").write_text(HOME)
    cache = book_folder / ".cache" / "baybook"
    cache.mkdir(parents=True)
    for made in runtime_cache.glob("runtime-*"):
        (cache / made.name).symlink_to(made)
    return book_folder


def run(folder: Path, program: str, *words: str) -> subprocess.CompletedProcess[str]:
    command = [str(PROGRAMS / program), *words]
    return subprocess.run(command, cwd=folder, capture_output=True, text=True, check=False)


def files_of(site: Path) -> Files:
    """Return every file of a site by its hash."""
    return {
        path.relative_to(site).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(site.rglob("*"))
        if path.is_file()
    }


def test_one_site_whoever_builds_it_and_the_same_bytes_twice(folder: Path) -> None:
    built = run(folder, "baybook", "build")
    assert built.returncode == 0, built.stderr
    assert built.stdout.startswith("1 procedure, ")
    assert built.stdout.endswith("\nopen site/index.html\n")
    first = files_of(folder / "site")
    strict = run(folder, "mkdocs", "build", "--strict", "--site-dir", "other")
    assert strict.returncode == 0, strict.stderr
    assert differing(first, files_of(folder / "other")) == []
    assert run(folder, "baybook", "build").returncode == 0
    assert differing(first, files_of(folder / "site")) == []
    check_content(folder / "site", first)


def differing(one: Files, two: Files) -> list[str]:
    return [name for name in sorted(one.keys() | two.keys()) if one.get(name) != two.get(name)]


def check_content(site: Path, files: Files) -> None:
    """Check that a built site is whole: the pages, their scripts, the browser's Python."""
    for uri in ("procedures/air/work.html", "calculators/fuse.html", "bench-sheets.html"):
        page = (site / uri).read_text("utf-8")
        for script in ("before-paint.js", "python.js", "baybook.js", "typeface.css"):
            assert script in page, uri
    for payload in ("workers", "wasm", "snapshot", "plain"):
        assert [name for name in files if name.startswith(f"assets/runtime/{payload}.")] != []
    assert '<div class="finder-large"' in (site / "index.html").read_text("utf-8")


@pytest.mark.parametrize(("program", "words"), [("baybook", ["build"]), ("mkdocs", ["build"])])
def test_a_wrong_source_builds_nothing(folder: Path, program: str, words: list[str]) -> None:
    source = folder / "procedures" / "air.md"
    source.write_text(source.read_text().replace("often: 2", "often: twice"))
    stopped = run(folder, program, *words)
    assert stopped.returncode == 1
    said = stopped.stdout + stopped.stderr
    assert (
        "procedures/air.md:15: faults.pump-dead.often: expected a number, got the text twice"
        in said
    )
    assert "Traceback" not in said
    assert not (folder / "site").exists()


def last_edition(folder: Path) -> Path:
    """Put a built site, in small, where the book goes."""
    site = folder / "site"
    site.mkdir()
    (site / "index.html").write_text("the last edition")
    mark(site)
    return site


def is_last_edition(site: Path) -> bool:
    whole = sorted(path.name for path in site.iterdir()) == [MARK, "index.html"]
    return whole and (site / "index.html").read_text() == "the last edition"


def test_a_wrong_source_leaves_the_last_site_as_it_is(folder: Path) -> None:
    site = last_edition(folder)
    (folder / "procedures" / "air.md").write_text("")
    assert run(folder, "baybook", "build").returncode == 1
    assert is_last_edition(site)


@pytest.mark.parametrize(("program", "option"), [("baybook", "--site"), ("mkdocs", "--site-dir")])
@pytest.mark.parametrize("site", ["procedures", "procedures/new", "victim"])
def test_a_folder_of_the_user_is_not_emptied(
    folder: Path, program: str, option: str, site: str
) -> None:
    (folder / "victim").mkdir()
    (folder / "victim" / "thesis.odt").write_text("x")
    before = files_of(folder)
    refused = run(folder, program, "build", option, site)
    assert refused.returncode == 1
    said = " ".join((refused.stdout + refused.stderr).split())
    reason = "thesis.odt" if site == "victim" else "the folder of the sources"
    assert reason in said
    assert "Traceback" not in said
    assert files_of(folder) == before


# A disk that is full while the pages are written: no file may grow beyond some size.
FULL_DISK = """
import resource, sys
from mkdocs import utils
from baybook.cli import main
write = utils.write_file
def write_file(content, path):
    if path.endswith("bench-sheets.html"):
        resource.setrlimit(resource.RLIMIT_FSIZE, (100, resource.RLIM_INFINITY))
    write(content, path)
utils.write_file = write_file
sys.exit(main(["build"]))
"""


def test_a_full_disk_leaves_the_last_site_as_it_is(folder: Path) -> None:
    site = last_edition(folder)
    command = [sys.executable, "-c", FULL_DISK]
    stopped = subprocess.run(command, cwd=folder, capture_output=True, text=True, check=False)
    assert stopped.returncode == 1
    assert "cannot write the book: File too large" in stopped.stderr
    assert "Traceback" not in stopped.stderr
    assert is_last_edition(site)
    assert [path.name for path in folder.iterdir() if path.name.startswith(".site")] == []


@pytest.mark.parametrize(
    ("plugins", "said"),
    [
        ("[search]", "plugins: expected baybook once, got none"),
        ("[baybook, baybook: {}]", "plugins: expected baybook once, got it twice"),
        ("[baybook: {labour_per_hour: -60}]", "expected a number from 0 to 10,000, got -60"),
    ],
)
def test_options_that_cannot_be_are_told(folder: Path, plugins: str, said: str) -> None:
    (folder / "mkdocs.yml").write_text(CONFIG.replace("[search, offline, baybook]", plugins))
    refused = run(folder, "baybook", "build")
    assert refused.returncode == 1
    assert said in " ".join((refused.stdout + refused.stderr).split())
    assert "Traceback" not in refused.stderr


def test_where_node_is_missing_mkdocs_says_so_in_one_sentence(folder: Path) -> None:
    for made in (folder / ".cache" / "baybook").iterdir():
        made.unlink()
    program = "import mkdocs.__main__ as m; from baybook.runtime import node; "
    program += "node._system_node = node._packaged_node = lambda: None; m.cli()"
    command = [sys.executable, "-c", program, "build"]
    stopped = subprocess.run(command, cwd=folder, capture_output=True, text=True, check=False)
    assert stopped.returncode == 1
    said = " ".join((stopped.stdout + stopped.stderr).split())
    assert "the browser's Python needs Node to be built and found none" in said
    assert "Traceback" not in said


def test_a_warning_of_the_sources_counts_where_mkdocs_is_strict(folder: Path) -> None:
    source = folder / "procedures" / "air.md"
    source.write_text(source.read_text().replace("A pump blows", "At 20 inHg a pump blows"))
    stopped = run(folder, "mkdocs", "build", "--strict")
    assert stopped.returncode == 1
    said = stopped.stdout + stopped.stderr
    assert 'procedures/air.md:54: warning: expected {{ quantity("20 inHg") }}' in said
    assert "1 warnings in strict mode" in said


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        (
            "baybook]",
            "{baybook: {requires: '>=99'}}]",
            "requires: the sources are for Baybook >=99, and this is ",
        ),
        ("name: material,", "name: mkdocs,", "expected the theme material, got mkdocs"),
        ("baybook]", "{baybook: {labor_per_hour: 9}}]", "did you mean labour_per_hour?"),
    ],
)
@pytest.mark.parametrize("program", ["baybook", "mkdocs"])
def test_a_configuration_that_does_not_fit_is_one_sentence(
    folder: Path, program: str, old: str, new: str, said: str
) -> None:
    config = folder / "mkdocs.yml"
    text = config.read_text().replace("offline, ", "").replace(old, new)
    config.write_text(text.replace("name: mkdocs, font: false", "name: mkdocs"))
    stopped = run(folder, program, "build")
    assert stopped.returncode in (1, 2)
    told = " ".join((stopped.stdout + stopped.stderr).split())
    assert said in told
    assert "Traceback" not in told
    assert not (folder / "site").exists()
