"""A new site takes the place of the old one in one step; what was stopped leaves the old whole."""

import os
import random
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from baybook.output import exchange
from baybook.output.exchange import SiteStage, restore
from baybook.output.site_folder import SiteRefused, foreign_files

# A build in small: a stage, files of one edition, the exchange; it tells each step.
BUILD = """
import sys
from pathlib import Path
from baybook.output import exchange
from baybook.output.exchange import SiteStage

def tell(step):
    print(step, flush=True)
    sys.stdin.readline()

site, edition, two_steps = Path(sys.argv[1]), sys.argv[2], sys.argv[3] == "two"
if two_steps:
    exchange._exchanged = lambda one, other: False
    rename = Path.rename
    Path.rename = lambda self, other: (tell("rename"), rename(self, other))[1]
stage = SiteStage(site)
tell("staged")
for number in range(20):
    (stage.folder / f"{number}.html").write_text(edition)
    if number % 5 == 0:
        tell("written")
stage.exchange()
tell("exchanged")
"""


def start(site: Path, edition: str, steps: str = "one") -> subprocess.Popen[str]:
    command = [sys.executable, "-c", BUILD, str(site), edition, steps]
    pipe = subprocess.PIPE
    return subprocess.Popen(command, stdin=pipe, stdout=pipe, text=True)


def go_on(build: subprocess.Popen[str], steps: int = 1) -> str:
    """Let a build do some steps; return the last one that it told."""
    assert build.stdout
    assert build.stdin
    told = ""
    for _ in range(steps):
        told = build.stdout.readline().strip()
        if told and build.poll() is None:
            build.stdin.write("\n")
            build.stdin.flush()
    return told


def finish(build: subprocess.Popen[str]) -> None:
    build.communicate("\n" * 20)
    assert build.returncode == 0


def edition(site: Path) -> str:
    """Return the edition of a site, made sure that all of it is there and of one edition."""
    pages = sorted(site.glob("*.html"))
    assert len(pages) == 20
    (found,) = {page.read_text() for page in pages}
    assert foreign_files(site) == []
    return found


@pytest.mark.parametrize("steps", ["one", "two"])
@pytest.mark.parametrize("stopped_after", range(1, 9))
def test_a_build_that_is_killed_leaves_a_whole_site_and_the_next_one_succeeds(
    tmp_path: Path, steps: str, stopped_after: int
) -> None:
    site = tmp_path / "site"
    finish(start(site, "first", steps))
    build = start(site, "second", steps)
    go_on(build, stopped_after)
    build.kill()
    build.communicate()
    if site.exists():  # else it was killed between the two renames, and the next build mends it
        assert edition(site) in ("first", "second")
    else:
        assert steps == "two"
    restore(site)
    assert edition(site) in ("first", "second")
    finish(start(site, "third", steps))
    assert edition(site) == "third"
    assert [path.name for path in tmp_path.iterdir()] == ["site"]


def test_random_kills(tmp_path: Path) -> None:
    site = tmp_path / "site"
    finish(start(site, "0"))
    rng = random.Random(17)
    for number in range(1, 6):
        build = start(site, str(number), rng.choice(["one", "two"]))
        go_on(build, rng.randint(1, 8))
        os.kill(build.pid, signal.SIGKILL)
        build.communicate()
        restore(site)
        assert int(edition(site)) <= number
    finish(start(site, "last"))
    assert [path.name for path in tmp_path.iterdir()] == ["site"]


@pytest.mark.parametrize("first_to_end", [0, 1])
def test_two_builds_at_once_do_not_harm_each_other(tmp_path: Path, first_to_end: int) -> None:
    site = tmp_path / "site"
    builds = [start(site, "one"), start(site, "other")]
    for _ in range(3):
        for build in builds:
            assert go_on(build) in ("staged", "written")
    finish(builds.pop(first_to_end))
    assert edition(site) == ("one", "other")[first_to_end]
    finish(builds.pop())
    assert edition(site) == ("other", "one")[first_to_end]
    assert [path.name for path in tmp_path.iterdir()] == ["site"]


def test_a_stage_in_use_is_not_swept(tmp_path: Path) -> None:
    stage = SiteStage(tmp_path / "site")
    (stage.folder / "index.html").write_text("x")
    SiteStage(tmp_path / "site").discard()
    assert (stage.folder / "index.html").exists()
    stage.discard()
    assert list(tmp_path.iterdir()) == []


def test_what_came_into_the_site_during_a_build_stops_the_exchange(tmp_path: Path) -> None:
    site = tmp_path / "site"
    finish(start(site, "first"))
    stage = SiteStage(site)
    (stage.folder / "index.html").write_text("x")
    (site / "notes.docx").write_text("x")
    with pytest.raises(SiteRefused, match=r"notes\.docx"):
        stage.exchange()
    assert (site / "notes.docx").exists()


def test_the_site_keeps_its_permissions(tmp_path: Path) -> None:
    site = tmp_path / "site"
    site.mkdir(mode=0o751)
    site.chmod(0o751)
    stage = SiteStage(site)
    (stage.folder / "index.html").write_text("x")
    stage.exchange()
    assert site.stat().st_mode & 0o777 == 0o751


def test_where_the_file_system_cannot_exchange_two_steps_do(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(exchange, "_exchanged", lambda _one, _other: False)
    site = tmp_path / "site"
    for text in ("first", "second"):
        stage = SiteStage(site)
        (stage.folder / "index.html").write_text(text)
        stage.exchange()
        assert (site / "index.html").read_text() == text
    assert [path.name for path in tmp_path.iterdir()] == ["site"]
