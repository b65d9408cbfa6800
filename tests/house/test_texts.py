"""What no file of the project may hold, wherever it stands."""

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pathspec
import pytest

MACHINE_PATH = re.compile(r"(?<![\w.~\-])/(?:work|root|home|Users|tmp)/|\b[A-Z]:\\Users\b")
REGISTRY = re.compile(
    r"\b(?:pypi\.org|pythonhosted\.org|npmjs\.(?:org|com)|yarnpkg\.com|jsdelivr\.net"
    r"|unpkg\.com|deb\.debian\.org)\b"
)
UNFINISHED = re.compile(
    r"\b(?:T[O]DO|F[I]XME|X[X]X)\b|\bmark\.(?:skip|xfail)|\bpytest\.(?:skip|xfail)"
)
ADDRESS = re.compile(r"(?:https?:)?//(?!www\.w3\.org/)[\w.-]+\.\w")
LOADED_ATTRIBUTE = re.compile(
    r"""(?:\b(?:src|srcset|poster|action)|<link\b[^>]*\bhref)\s*=\s*["']?\s*(?:https?:)?//"""
)


def texts(root: Path) -> Iterator[tuple[str, str]]:
    """Give the path and the text of each file that git would take."""
    ignored = root / ".gitignore"
    lines = ignored.read_text(encoding="utf-8").splitlines() if ignored.exists() else []
    spec = pathspec.GitIgnoreSpec.from_lines([".*/", ".git", "!.ci/", *lines])
    for folder, inner, names in root.walk():
        place = folder.relative_to(root)
        inner[:] = [name for name in inner if not spec.match_file(f"{place / name}/")]
        for name in names:
            path = place / name
            data = b"" if spec.match_file(path) else (root / path).read_bytes()
            if data and b"\0" not in data:  # a picture is no text
                yield path.as_posix(), data.decode("utf-8", errors="ignore")


def lines_with(root: Path, pattern: re.Pattern[str]) -> list[str]:
    return [
        f"{path}:{number}: {line.strip()[:80]}"
        for path, text in texts(root)
        for number, line in enumerate(text.splitlines(), 1)
        if pattern.search(line)
    ]


def outside_requests(root: Path) -> list[str]:
    """Return the lines of what ships in the browser that would ask another host."""
    shipped = ("build/baybook/assets/", "build/baybook/templates/")
    return [
        f"{path}:{number}: {line.strip()[:80]}"
        for path, text in texts(root)
        if path.startswith(shipped)
        for number, line in enumerate(text.splitlines(), 1)
        if (LOADED_ATTRIBUTE if path.endswith((".j2", ".html")) else ADDRESS).search(line)
    ]


def lock_problems(root: Path) -> list[str]:
    """Return what is wrong with the lock files of npm: an address, or no hash."""
    problems = []
    for path, text in texts(root):
        if path.endswith("package-lock.json"):
            for name, package in locked_packages(json.loads(text)):
                if "resolved" in package:
                    problems.append(f"{path}: {name}: resolved")
                if "integrity" not in package:
                    problems.append(f"{path}: {name}: no integrity")
    return problems


def locked_packages(lock: dict[str, Any]) -> list[tuple[str, dict[str, Any]]]:
    """Return the packages of a lock file but the project itself."""
    return [(name, package) for name, package in lock["packages"].items() if name]


def unpinned(root: Path) -> list[str]:
    """Return the pins that do not say one version of one package, or have no hash of its files."""
    pin = re.compile(r"[\w.-]+==[\w.]+( ; .+)?( --hash=sha256:[0-9a-f]{64})+")
    pins = [
        line
        for path in sorted((root / ".ci/pins").glob("*.txt"))
        for line in re.sub(r" *\\\n *", " ", path.read_text(encoding="utf-8")).splitlines()
    ]
    return [line[:60] for line in pins if not line.startswith("#") and not pin.fullmatch(line)]


@pytest.mark.parametrize("pattern", [MACHINE_PATH, REGISTRY, UNFINISHED])
def test_no_file_holds(root, pattern):
    assert lines_with(root, pattern) == []


@pytest.mark.parametrize(
    ("pattern", "line"),
    [
        (MACHINE_PATH, "cache = '/" + "home/someone/book'"),
        (MACHINE_PATH, "see /" + "tmp/log.txt"),
        (MACHINE_PATH, "C:" + "\\Users\\someone"),
        (REGISTRY, "https://pypi" + ".org/simple"),
        (REGISTRY, "registry.npmjs" + ".org"),
        (UNFINISHED, "# TO" + "DO: later"),
        (UNFINISHED, "@pytest.mark" + ".xfail"),
    ],
)
def test_a_line_that_may_not_be_is_found(plant, pattern, line):
    plant(".gitignore", "cache/\n")
    plant("cache/log.txt", line)
    root = plant("docs/page.md", f"first\n{line}\n")
    assert lines_with(root, pattern) == [f"docs/page.md:2: {line}"]


def test_a_picture_is_no_text(plant):
    assert lines_with(plant("docs/picture.png", "\0X" + "XX"), UNFINISHED) == []


@pytest.mark.parametrize("line", ["~/work/notes", "https://example.com/home/page", "net/tmp/x"])
def test_other_paths_may_stand(plant, line):
    assert lines_with(plant("docs/page.md", line), MACHINE_PATH) == []


def test_what_ships_asks_no_other_host(root):
    assert outside_requests(root) == []


@pytest.mark.parametrize(
    ("path", "line"),
    [
        ("templates/page.html.j2", '<script src="https://example.com/a.js"></script>'),
        ("templates/page.html.j2", '<link rel="stylesheet" href="//example.com/a.css">'),
        ("templates/page.html.j2", "<img srcset='http://example.com/a.png 2x'>"),
        ("assets/book.css", "@import url(https://example.com/a.css);"),
        ("assets/book.css", "src: url(//example.com/a.woff2);"),
        ("assets/inner/part.js", 'await fetch("https://example.com/a.json");'),
        ("assets/inner/part.js", 'importScripts("//example.com/a.js");'),
    ],
)
def test_a_request_to_another_host_is_found(plant, path, line):
    root = plant(f"build/baybook/{path}", f"\n{line}\n")
    assert outside_requests(root) == [f"build/baybook/{path}:2: {line}"]


@pytest.mark.parametrize(
    ("path", "line"),
    [
        ("templates/page.html.j2", '<a href="https://example.com/rule">the rule</a>'),
        ("templates/page.html.j2", '<svg xmlns="http://www.w3.org/2000/svg">'),
        ("assets/part.js", 'const SVG = "http://www.w3.org/2000/svg"; // a comment'),
    ],
)
def test_a_link_and_a_name_space_may_stand(plant, path, line):
    assert outside_requests(plant(f"build/baybook/{path}", line)) == []


def test_npm_packages_have_a_hash_and_no_address(root):
    assert lock_problems(root) == []
    lock = json.loads((root / "build/baybook/runtime/package-lock.json").read_text())
    assert "node_modules/pyodide" in dict(locked_packages(lock))


def test_an_npm_package_with_an_address_is_found(plant):
    packages = {"": {"name": "x"}, "node_modules/y": {"resolved": "there"}}
    root = plant("inner/package-lock.json", json.dumps({"packages": packages}))
    assert lock_problems(root) == [
        "inner/package-lock.json: node_modules/y: resolved",
        "inner/package-lock.json: node_modules/y: no integrity",
    ]


def test_pins_are_versions_with_hashes(root):
    assert len(list((root / ".ci/pins").glob("*.txt"))) == 3
    assert unpinned(root) == []


HASH = f"--hash=sha256:{'0' * 64}"


@pytest.mark.parametrize(
    "line",
    [
        "pint==0.25",
        f"pint>=0.25 {HASH}",
        f"pint {HASH}",
        "pint @ file:///x",
        "-e .",
        "--index-url x",
    ],
)
def test_a_pin_that_is_no_version_with_a_hash_is_found(plant, line):
    pins = f"# by hand\nrich==15.0.0 \\\n    {HASH} \\\n    {HASH}\n{line}\n"
    assert unpinned(plant(".ci/pins/book.txt", pins)) == [line[:60]]
