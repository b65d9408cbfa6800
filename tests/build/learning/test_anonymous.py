"""Sheets to be passed on hold nothing personal, and tell the same."""

import json
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from tests.invented_jobs import Bay, write_sheets

import baybook
from baybook.learning.anonymous import write_all
from baybook.learning.closed_jobs import SheetReader

PLANTED = "Iris Quell 0151"
SCHEMA = json.loads(
    (Path(baybook.__file__).parent / "assets" / "bench-sheet.schema.json").read_text("utf-8")
)


def _plant(value: Any, name: str = "") -> Any:
    """Put a name into every free text of a sheet, and into every field that it could have."""
    if isinstance(value, dict):
        found = {key: _plant(inside, key) for key, inside in value.items()}
        return found | {"note": PLANTED} if "type" in value else found
    if isinstance(value, list):
        return [_plant(inside, name) for inside in value]
    return PLANTED if isinstance(value, str) and name in FREE else value


FREE = {"plate", "order", "vin", "odometer", "technician", "remarks", "vehicleName", "words"}
FREE |= {"testTitle", "asked", "text", "says", "fitted", "why", "told", "next", "spent"}


@pytest.fixture
def folder(tmp_path: Path, network: dict[str, Any]) -> Path:
    bay = Bay("a-book", "air", "0123456789abcdef", network, network, 8)
    plain = list(bay.sheets(12))
    photo = {"id": "12345678", "at": plain[0]["begun"], "about": PLANTED, "data": "data:image/png"}
    rich = [
        _plant(sheet)
        | {
            "photos": [photo],
            "spent": PLANTED,
            "vehicle": PLANTED if number % 2 else "a-car",
            "drafts": {"hold": {"text": PLANTED, "unit": ""}},
        }
        for number, sheet in enumerate(plain)
    ]
    for sheet in rich:
        sheet["events"].insert(1, sheet["events"][0] | {"type": "words", "text": PLANTED})
        sheet["events"][0]["complaints"] += [PLANTED]
    write_sheets(tmp_path / "plain", iter(plain))
    write_sheets(tmp_path / "rich", iter(rich))
    return tmp_path


def test_nothing_personal_is_left(folder: Path) -> None:
    told: list[str] = []
    assert write_all(folder / "rich", folder / "out", told.append) == 12
    assert told == []
    files = sorted((folder / "out").iterdir())
    assert len(files) == 12
    old_names = {path.stem for path in (folder / "rich").iterdir()}
    for path in files:
        text = path.read_text("utf-8")
        assert PLANTED.split()[0] not in text
        assert "2026" not in text
        assert path.stem not in old_names
        assert not [name for name in old_names if name in text]
        jsonschema.validate(json.loads(text), SCHEMA)


def test_they_tell_the_same(folder: Path, network: dict[str, Any]) -> None:
    write_all(folder / "plain", folder / "out", print)
    reader = SheetReader("a-book", {"0123456789abcdef": network})

    def told(name: str) -> list[str]:
        place = folder / name
        read = [reader.read(place, path.name) for path in place.iterdir()]
        return sorted(repr(sheet.jobs) for sheet in read)

    assert told("plain") == told("out")
    assert all(told("out"))


def test_the_same_job_keeps_its_name(folder: Path) -> None:
    write_all(folder / "plain", folder / "one", print)
    write_all(folder / "plain", folder / "two", print)
    names = [{path.name for path in (folder / each).iterdir()} for each in ("one", "two")]
    assert names[0] == names[1]


def test_what_is_no_sheet_is_told(folder: Path) -> None:
    (folder / "rich" / "other.json").write_text("{}", "utf-8")
    told: list[str] = []
    assert write_all(folder / "rich", folder / "out", told.append) == 12
    assert len(told) == 1
    assert told[0].startswith("left out: other.json: is no bench sheet")
