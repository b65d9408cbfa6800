"""The wheel on a machine with Python alone: no Node, no network, and a book that answers."""

import subprocess
import sys
import sysconfig
import venv
from collections.abc import Callable
from pathlib import Path

import pytest
from hatchling.builders.wheel import WheelBuilder
from playwright.sync_api import Page, expect
from tests.kept import ROOT, RUNTIME_CACHE, one_maker

from baybook.runtime.ready import make_ready

NOWHERE = "http://127.0.0.1:9"


def run(command: list[str | Path], folder: Path) -> str:
    """Run a command of the new environment: no program beside it, and proxies that lead nowhere."""
    bin_folder = Path(command[0]).parent
    variables = {"PATH": str(bin_folder), "HTTP_PROXY": NOWHERE, "HTTPS_PROXY": NOWHERE}
    done = subprocess.run(
        [str(word) for word in command],
        cwd=folder,
        env=variables | {"HOME": str(folder), "LANG": "C.UTF-8"},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    assert done.stderr == ""
    return done.stdout


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel as `make wheel` makes it."""
    folder = str(tmp_path_factory.mktemp("dist"))
    with one_maker():
        make_ready(ROOT / ".cache" / "ready", RUNTIME_CACHE)
        return Path(next(WheelBuilder(str(ROOT)).build(directory=folder, versions=["standard"])))


@pytest.fixture(scope="module")
def programs(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The programs of a new environment in which the wheel is installed.

    What the wheel needs of others is taken from the environment of the tests, so that no
    registry is asked; the baybook of that environment can not be seen from the new one.
    """
    home = tmp_path_factory.mktemp("environment")
    venv.create(home, symlinks=True)
    python = home / "bin" / "python"
    command = [sys.executable, "-m", "pip", "--python", python, "install", "--quiet"]
    subprocess.run([*command, "--no-deps", "--no-index", wheel], check=True)
    site = next(home.rglob("site-packages"))
    (site / "others.pth").write_text(sysconfig.get_path("purelib"))
    return python.parent


@pytest.fixture(scope="module")
def site(programs: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The site of a new book, built by the wheel."""
    folder = tmp_path_factory.mktemp("shelf")
    run([programs / "baybook", "new", "book", "my-book"], folder)
    book = folder / "my-book"
    out = run([programs / "baybook", "check", "--strict"], book)
    assert out == "1 procedure, 1 vehicle: 0 errors, 0 warnings\n"
    out = run([programs / "baybook", "build"], book)
    assert out.endswith("\nopen site/index.html\n")
    assert not list((book / ".cache").rglob("npm-*"))
    return book / "site"


def test_a_book_of_the_wheel_stands_on_python_alone(
    programs: Path, site: Path, serve: Callable[[Path], str], page: Page, tmp_path: Path
) -> None:
    """One test: the wheel is made and installed for it."""
    script = "import baybook, shutil; print(baybook.__file__, shutil.which('node'))"
    file, node = run([programs / "python", "-c", script], tmp_path).split()
    assert Path(file).is_relative_to(programs.parent)
    assert node == "None"
    for address in (serve(site), f"{site.as_uri()}/"):
        page.goto(f"{address}calculators/vacuum_units.html")
        page.locator("[name=reading]").fill("10")
        # 10 inHg in kPa by the conventional inch of mercury, 3386.389 Pa (NIST SP 811, B.8).
        expect(page.locator(".results-table")).to_contain_text("33.86")
        page.goto(f"{address}procedures/first-procedure/first-car.html")
        expect(page.locator("h1")).to_contain_text("First procedure: First car")
        expect(page.locator(".test")).to_have_count(2)
        expect(page.locator(".safety .signal").first).to_be_visible()
