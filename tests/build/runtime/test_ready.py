"""The edition that the wheel carries: it serves where its inputs are the same, and only there."""

from pathlib import Path

import pytest

from baybook.runtime import build_runtime, bundle
from baybook.runtime.bundle import input_key
from baybook.runtime.edition import LIBRARY_FOLDER
from baybook.runtime.manifest import is_whole, seal
from baybook.runtime.ready import make_ready
from baybook.runtime.typeface import STYLE_SHEET

UNITS = '{"inHg": 3386.389}'


@pytest.fixture(autouse=True)
def no_licences(monkeypatch: pytest.MonkeyPatch) -> None:
    """A stand-in of an edition holds nothing of others."""
    monkeypatch.setattr(bundle, "vendored", lambda _folder: [])


@pytest.fixture
def carried(stand_in: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A carried edition of the stand-in, in a program that can make no other one."""
    edition = tmp_path / "ready" / input_key(stand_in, UNITS)
    edition.mkdir(parents=True)
    for name in ("python.js", "schema.js", f"engine.{edition.name}.js"):
        (edition / name).write_text(name)
    (edition / LIBRARY_FOLDER).mkdir()
    (edition / LIBRARY_FOLDER / STYLE_SHEET).write_text("")
    seal(edition)
    monkeypatch.setattr(bundle, "READY", edition.parent)
    return edition


def test_the_carried_edition_is_copied(
    carried: Path, stand_in: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delattr(bundle, "make_edition")
    cache = tmp_path / "cache"
    made = build_runtime(tmp_path / "out", cache, UNITS, calc_dir=stand_in)
    assert made.cached
    assert {path.name for path in made.sizes} == {
        "python.js",
        "schema.js",
        f"engine.{carried.name}.js",
    }
    assert made.client.read_text() == "python.js"
    assert not cache.exists()


@pytest.mark.usefixtures("carried")
def test_an_edition_of_other_inputs_is_left_alone(
    stand_in: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fake_edition(made: Path, *_inputs: object) -> None:
        made.mkdir()
        (made / "python.js").write_text("made anew")
        (made / LIBRARY_FOLDER).mkdir()
        (made / LIBRARY_FOLDER / STYLE_SHEET).write_text("")

    monkeypatch.setattr(bundle, "make_edition", fake_edition)
    made = build_runtime(tmp_path / "out", tmp_path / "cache", "{}", calc_dir=stand_in)
    assert not made.cached
    assert made.client.read_text() == "made anew"


def test_an_old_ready_edition_goes(cache: Path, tmp_path: Path) -> None:
    ready = tmp_path / "ready"
    (ready / "old").mkdir(parents=True)
    made = make_ready(ready, cache)
    (edition,) = ready.iterdir()
    assert is_whole(edition)
    assert (edition / made.client.name).read_bytes() == made.client.read_bytes()
