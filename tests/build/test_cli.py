"""The command line: exit codes, and plain sentences instead of tracebacks."""

import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from importlib.metadata import version
from pathlib import Path
from types import ModuleType

import click
import pytest

from baybook.cli import main
from baybook.verbs import check

Said = Callable[..., tuple[int, str, str]]


@pytest.fixture
def said(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> Said:
    """Give a function that runs `baybook` in an empty folder: exit code, output, complaints."""
    monkeypatch.chdir(tmp_path)

    def run(*words: str) -> tuple[int, str, str]:
        code = main(words)
        return code, *capsys.readouterr()

    return run


USAGE = """\
usage: baybook VERB ...

  check     check the sources and print every problem
  build     build the book into a folder
  serve     show the book in the browser, built again at each change
  new       write the skeleton of a procedure, a vehicle or a whole book
  calc      compute with a calculator, such as: calc vacuum_units reading='20 inHg'
  simulate  take simulated cars through the procedures and keep the figures
  learn     say what closed jobs tell of the chances, times and faults of a book
  exercise  work a job with a hidden fault, or give it out
  marks     mark the results of a class anew, as a table (CSV)

baybook VERB --help says more
"""

WRONG_COMMANDS = {
    "chek": "expected a verb, got chek\n    hint: did you mean check?",
    "xyz": "expected a verb, got xyz\n"
    "    hint: the verbs are check, build, serve, new, calc, simulate, learn, exercise, marks",
    "check --strit": "expected no --strit after `baybook check`\n    hint: did you mean --strict?",
    "check a b": "expected no b after `baybook check`\n    hint: see `baybook check --help`",
    "check procedurs": "expected a folder with sources, got procedurs, which does not exist\n"
    "    hint: give the folder with the procedures",
    "--strict check": "expected a verb, got --strict\n"
    "    hint: the verbs are check, build, serve, new, calc, simulate, learn, exercise, marks",
    "new procedure": "expected NAME after `baybook new`, got nothing\n"
    "    hint: see `baybook new --help`",
    "simulate --cars many": "expected a whole number for --cars, got many\n"
    "    hint: see `baybook simulate --help`",
    "check": "expected a folder with sources, got procedures, which does not exist\n"
    "    hint: give the folder with the procedures",
    "check --schema vehicel": "expected one of procedure, vehicle, shared; got vehicel\n"
    "    hint: did you mean vehicle?",
    "build": "expected the configuration of a book, got mkdocs.yml, which is not there\n"
    "    hint: run it in the folder with mkdocs.yml, or give --config FILE",
    "serve --address here": "expected an address such as 127.0.0.1:8000, got here",
    "new": "expected WHAT, NAME after `baybook new`, got nothing\n"
    "    hint: see `baybook new --help`",
    "new vehicel x": "expected one of procedure, vehicle, book; got vehicel\n"
    "    hint: did you mean vehicle?",
    "new procedure Air_Pump": "expected a name of lower-case letters, digits and hyphens, "
    "got Air_Pump\n    hint: such as air-pump",
    "calc vacum_units": "expected a calculator, got vacum_units\n"
    "    hint: did you mean vacuum_units?",
    "calc xyz": "expected a calculator, got xyz\n    hint: `baybook calc` lists them",
    "calc vacuum_units altitud=3": "expected an input of vacuum_units, got altitud\n"
    "    hint: did you mean altitude?",
    "calc vacuum_units reading=20 inHg": "expected key=value, got inHg\n"
    '    hint: a value with a space needs quotes, such as reading="20 inHg"',
    "calc vacuum_units altitude=1 altitude=2": "expected altitude once, got it again",
}


@pytest.mark.parametrize("command", WRONG_COMMANDS)
def test_a_wrong_command_line_ends_with_2(command: str, said: Said) -> None:
    assert said(*command.split()) == (2, "", f"baybook: {WRONG_COMMANDS[command]}\n")


def test_a_folder_beside_is_suggested(said: Said, tmp_path: Path) -> None:
    (tmp_path / "procedures").mkdir()
    code, _, complaint = said("check", "procedurs")
    assert (code, complaint.split("\n")[1]) == (2, "    hint: did you mean procedures?")


def test_help(said: Said) -> None:
    assert said("--help") == (0, USAGE, "")
    assert said() == (2, "", USAGE)
    assert said("--version") == (0, f"baybook {version('baybook')}\n", "")


def test_help_of_a_verb(said: Said) -> None:
    code, out, complaint = said("calc", "--help")
    assert (code, complaint) == (0, "")
    assert out.startswith("Usage: baybook calc [OPTIONS] [NAME] [KEY=VALUE]...")


def test_check_follows_the_configuration(said: Said, book_folder: Path) -> None:
    (book_folder / "procedures").rename(book_folder / "sources")
    (book_folder / "mkdocs.yml").write_text(
        "site_name: !ENV [NAME, Book]\n"
        "markdown_extensions:\n  - x: !!python/name:os.path\n"
        "plugins:\n  - search\n  - baybook: {sources: sources}\n"
    )
    clean = "1 procedure, 1 vehicle: 0 errors, 0 warnings\n"
    assert said("check") == (0, clean, "")
    assert said("check", str(book_folder)) == (0, clean, "")
    assert said("check", "sources") == (0, clean, "")


def test_a_configuration_that_does_not_parse(said: Said, book_folder: Path) -> None:
    (book_folder / "mkdocs.yml").write_text("plugins: [")
    code, out, complaint = said("check")
    assert (code, out) == (2, "")
    assert complaint.startswith("baybook: expected YAML in mkdocs.yml, got a fault: ")
    assert complaint.count("\n") == 1


@pytest.mark.parametrize("verb", ["build", "serve", "simulate"])
@pytest.mark.parametrize("place", ["mkdocs.yml", "base.yml"])
def test_a_configuration_that_carries_code_is_refused(
    verb: str, place: str, said: Said, book_folder: Path
) -> None:
    code = 'plugins: [baybook]\nsite_name: !!python/object/apply:os.system ["touch done"]\n'
    (book_folder / "mkdocs.yml").write_text("INHERIT: base.yml\nplugins: [baybook]\n")
    (book_folder / place).write_text(code)
    ended, out, complaint = said(verb)
    assert (ended, out) == (2, "")
    assert complaint == (
        f"baybook: {place}:2: expected plain values, got !!python/object/apply:os.system, which "
        "runs code\n    hint: take it out; a contribution to a book is sources, never a "
        "configuration\n"
    )
    assert not (book_folder / "done").exists()


def test_names_of_the_theme_are_no_code(said: Said, plugin: ModuleType, book_folder: Path) -> None:
    plugin.build_site = lambda *_: Built(1, 1, 1, 1, book_folder)  # type: ignore[attr-defined]
    (book_folder / "mkdocs.yml").write_text(
        "plugins: [baybook]\nmarkdown_extensions:\n  - pymdownx.emoji:\n"
        "      emoji_index: !!python/name:material.extensions.emoji.twemoji\n"
    )
    assert said("build")[0] == 0


def test_a_fault_of_its_own_is_one_sentence(said: Said, monkeypatch: pytest.MonkeyPatch) -> None:
    def break_down(_folder: object) -> int:
        raise KeyError("a  b\nc")

    monkeypatch.setattr(check, "find_sources", break_down)
    code, out, complaint = said("check", "some folder")
    assert (code, out) == (3, "")
    first, second = complaint.splitlines()
    assert first.startswith("baybook: stopped by a fault of its own: KeyError: 'a b\\nc' (in break")
    assert second == (
        "    hint: please report this line with the command `baybook check 'some folder'` "
        "and what it was given to read"
    )


def test_being_stopped(said: Said, monkeypatch: pytest.MonkeyPatch) -> None:
    def stop(_folder: object) -> int:
        raise KeyboardInterrupt

    monkeypatch.setattr(check, "find_sources", stop)
    assert said("check") == (130, "", "baybook: stopped\n")


def test_a_reader_that_has_enough() -> None:
    script = "import sys, baybook.cli; sys.exit(baybook.cli.main(['check', '--schema']))"
    command = [sys.executable, "-c", script]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as running:
        assert running.stdout is not None
        assert running.stderr is not None
        running.stdout.close()
        assert running.stderr.read() == b""
        assert running.wait() == 0


@dataclass
class Built:
    """What a build made, as the plugin tells it."""

    procedures: int
    pages: int
    seconds: float
    bytes: int
    index: Path


@pytest.fixture
def plugin(book_folder: Path, monkeypatch: pytest.MonkeyPatch) -> ModuleType:
    """Stand in for the plugin, so that no site is built."""
    (book_folder / "mkdocs.yml").write_text("site_name: Book\nplugins: [baybook]\n")
    stand_in = ModuleType("baybook.run_mkdocs")
    monkeypatch.setitem(sys.modules, "baybook.run_mkdocs", stand_in)
    return stand_in


def test_build_says_where_to_click(said: Said, plugin: ModuleType, tmp_path: Path) -> None:
    asked: list[object] = []

    def build_site(config: Path, site: Path | None) -> Built:
        asked.extend((config, site))
        return Built(1, 12, 3.14, 6_543_210, tmp_path / "out" / "index.html")

    plugin.build_site = build_site  # type: ignore[attr-defined]
    code, out, complaint = said("build", "--site", "out")
    assert (code, complaint) == (0, "")
    assert out == "1 procedure, 12 pages, 6.5 MB, built in 3.1 s\nopen out/index.html\n"
    assert asked == [Path("mkdocs.yml"), Path("out")]


@pytest.mark.parametrize("verb", ["build", "serve"])
def test_wrong_sources_are_not_built(verb: str, said: Said, book_folder: Path) -> None:
    (book_folder / "mkdocs.yml").write_text(
        "site_name: Book\ntheme: {name: material}\nplugins: [search, offline, baybook]\n"
    )
    (book_folder / "docs").mkdir()
    (book_folder / "procedures" / "shared.yml").write_text("tools: {}\n")
    before = sorted(book_folder.rglob("*"))
    code, _, complaint = said(verb)
    assert code == 1
    assert complaint.splitlines()[0] == (
        "procedures/air.md:7: shared-safety[0]: expected a safety message of shared.yml, got gas"
    )
    assert complaint.splitlines()[-1] == "1 procedure, 1 vehicle: 4 errors, 0 warnings"
    assert sorted(book_folder.rglob("*")) == before


@pytest.mark.parametrize(
    ("error", "complaint"),
    [
        (click.ClickException("the theme is not there"), "the theme is not there"),
        (OSError(98, "Address already in use"), "Address already in use"),
    ],
)
@pytest.mark.parametrize(("verb", "function"), [("build", "build_site"), ("serve", "serve_site")])
def test_what_mkdocs_refuses_is_one_sentence(
    verb: str, function: str, error: Exception, complaint: str, said: Said, plugin: ModuleType
) -> None:
    def refuse(*_: object) -> None:
        raise error

    setattr(plugin, function, refuse)
    code, out, complained = said(verb)
    before = "the book will be at http://127.0.0.1:8000/ (Ctrl-C stops it)\n"
    assert (code, out) == (1, before if verb == "serve" else "")
    assert complained.endswith(f"{complaint}\n")
    assert complained.count("\n") == 1


def test_check_and_calc_do_not_wait_for_mkdocs() -> None:
    script = "import sys, baybook.cli; sys.exit('mkdocs' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", script], check=False).returncode == 0
