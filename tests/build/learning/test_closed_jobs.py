"""Sheets as files: which count, which are left out and why, whatever stands in them."""

import json
import os
from datetime import UTC, datetime
from pathlib import Path
from random import Random
from typing import Any

import pytest
from tests.invented_jobs import Bay, write_sheets

from baybook.learning.closed_jobs import ReadSheet, SheetReader, whole_folder, without_copies
from baybook.learning.sheet_file import SheetEvent, history, read_sheet
from baybook.learning.work_times import spans

BOOK = "a-book"


@pytest.fixture
def sheet(network: dict[str, Any]) -> dict[str, Any]:
    return Bay(BOOK, "air", "key", network, network, 3).sheet(
        Bay(BOOK, "air", "key", network, network, 3).events(), 0
    )


@pytest.fixture
def reader(network: dict[str, Any]) -> SheetReader:
    return SheetReader(BOOK, {"key": network})


def _read(reader: SheetReader, folder: Path, sheet: Any) -> ReadSheet:
    (folder / "one.json").write_text(
        sheet if isinstance(sheet, str) else json.dumps(sheet), "utf-8"
    )
    return reader.read(folder, "one.json")


def test_a_closed_job_counts(tmp_path: Path, reader: SheetReader, sheet: dict[str, Any]) -> None:
    read = _read(reader, tmp_path, sheet)
    assert (read.why, read.id) == ("", sheet["id"])
    assert len(read.jobs) == 1
    job = read.jobs[0]
    assert job.network == "key"
    assert job.codes
    assert job.spans


def test_a_repair_that_was_proven_explains_a_job(
    tmp_path: Path, reader: SheetReader, sheet: dict[str, Any]
) -> None:
    head = {"at": "2026-01-05T10:00:00Z", "procedure": "air"}
    repair = head | {"type": "repair", "fault": "hose", "says": "Hose"}
    proof = head | {"type": "recheck", "result": "cured"}
    for ends, unexplained in (
        ([repair, proof], False),
        ([repair], True),
        ([repair, {**proof, "result": "not cured"}], True),
        ([{**repair, "fault": "outside"}, proof], True),
    ):
        entries = [each for each in sheet["events"] if each["type"] in ("intake", "code")]
        read = _read(reader, tmp_path, {**sheet, "events": [*entries, *ends]})
        assert [job.unexplained for job in read.jobs] == [unexplained]


@pytest.mark.parametrize(
    ("change", "why"),
    [
        ({"closed": ""}, "is still open"),
        ({"book": "another"}, "was written with another book"),
        ({"networks": {"air": "old"}}, "air: its network has changed since, or is of no car here"),
        ({"networks": {}}, "air: its network has changed since, or is of no car here"),
        ({"version": 1}, "is of the first form, which noted no network"),
        ({"events": []}, "has no entries"),
        ({"form": "another"}, "is no bench sheet"),
        ({"version": 7}, "is no bench sheet"),
        ({"changed": "2026-01-05"}, "is no bench sheet"),
        ({"changed": "2026-01-05T10:00:00"}, "is no bench sheet: a time without a zone"),
        ({"events": [{"type": 3}]}, "is no bench sheet"),
    ],
)
def test_what_is_left_out_says_why(
    tmp_path: Path, reader: SheetReader, sheet: dict[str, Any], change: dict[str, Any], why: str
) -> None:
    read = _read(reader, tmp_path, sheet | change)
    assert read.why.startswith(why)
    assert read.jobs == ()


def _entry(**fields: Any) -> dict[str, Any]:
    return {"at": "2026-01-05T18:00:00Z", "procedure": "air", "testTitle": "", "text": ""} | fields


@pytest.mark.parametrize(
    ("entries", "why"),
    [
        ([_entry(type="result", test="gone", observation="x", outcome="pass")], "gone"),
        ([_entry(type="safety")], "air: nothing was found out"),
    ],
)
def test_entries_that_cannot_count(
    tmp_path: Path,
    reader: SheetReader,
    sheet: dict[str, Any],
    entries: list[dict[str, Any]],
    why: str,
) -> None:
    read = _read(reader, tmp_path, sheet | {"events": entries})
    assert why in read.why
    assert "\n" not in read.why
    assert read.jobs == ()


def test_entries_that_contradict_each_other(
    tmp_path: Path, network: dict[str, Any], sheet: dict[str, Any]
) -> None:
    band = network["tests"][0]["observations"][0]["bands"][0]
    band |= {"shows": {"hose": 1.0}, "false_alarm": 0.0}
    drops = _entry(type="result", test="hold", observation="drops", outcome="fail")
    entries = [drops, _entry(type="repair", fault="hose", says=""), drops]
    read = _read(SheetReader(BOOK, {"key": network}), tmp_path, sheet | {"events": entries})
    assert (read.why, read.jobs) == ("air: its entries contradict each other", ())


@pytest.mark.parametrize("text", ["", "{", "[]", "null", "[" * 100_000, '"\ud800"', "NaN"])
def test_no_sheet_at_all(tmp_path: Path, reader: SheetReader, text: str) -> None:
    (tmp_path / "one.json").write_bytes(text.encode("utf-8", "surrogatepass"))
    assert reader.read(tmp_path, "one.json").why.startswith("is no bench sheet")


def test_what_is_no_plain_file(tmp_path: Path, reader: SheetReader) -> None:
    os.mkfifo(tmp_path / "pipe.json")
    (tmp_path / "folder.json").mkdir()
    for name in whole_folder(tmp_path):
        assert reader.read(tmp_path, name).why == "is no plain file"


def test_two_thousand_damaged_sheets_stop_nothing(
    tmp_path: Path, reader: SheetReader, sheet: dict[str, Any]
) -> None:
    random = Random(16)
    whole = json.dumps(sheet).encode()
    strange = [b"\x00", b'"', b"}", b"[", b"-1e999", b"null", b"\xff", b"1" * 400, b"__proto__"]
    kept = 0
    for _ in range(2000):
        data = bytearray(whole)
        for _ in range(random.randint(1, 4)):
            start = random.randrange(len(data))
            data[start : start + random.randint(0, 12)] = random.choice(strange)
        (tmp_path / "one.json").write_bytes(data)
        read = reader.read(tmp_path, "one.json")
        assert "\n" not in read.why
        assert read.jobs or read.why
        kept += bool(read.jobs)
    assert 0 < kept < 1000  # some letters do not matter, most do


def test_of_copies_the_newest_counts(
    tmp_path: Path, reader: SheetReader, sheet: dict[str, Any]
) -> None:
    write_sheets(tmp_path / "a" / "deep", iter([sheet]))
    write_sheets(tmp_path / "b", iter([sheet | {"changed": "2027-01-01T00:00:00Z"}]))
    (tmp_path / "c.json").write_text("{}", "utf-8")
    names = whole_folder(tmp_path)
    assert len(names) == 3
    kept, copies = without_copies([reader.read(tmp_path, name) for name in names])
    assert [one.file for one in kept] == [f"b/{sheet['id']}.json", "c.json"]
    assert copies[0].why == f"is the same job as b/{sheet['id']}.json"


def test_times_are_those_between_entries(
    tmp_path: Path, reader: SheetReader, sheet: dict[str, Any]
) -> None:
    def at(minute: float) -> str:
        return f"2026-01-05T{17 + int(minute // 60):02}:{int(minute % 60):02}:00Z"

    entries = [
        _entry(type="intake", codes={"P0410": "stored"}, read=True, complaints=[], at=at(0)),
        _entry(type="result", test="hold", observation="drops", outcome="pass", at=at(10)),
        _entry(type="result", test="measure", observation="volts", outcome="pass", at=at(20)),
        _entry(type="result", test="run", observation="still", outcome="pass", at=at(170)),
        _entry(type="repair", fault="hose", says="", price="$ 25,00", at=at(180)),
        _entry(type="recheck", result="cured", at=at(181)),
    ]
    (job,) = _read(reader, tmp_path, sheet | {"events": entries}).jobs
    spans = {span.paths: span.ratio for span in job.spans}
    # 10 min for 5; 10 min for 4 and 6 to raise the car; 150 min for 8 are a pause; 10 min for
    # 20, and 25 for parts of 50; a proof of one minute was noted together with the repair.
    assert spans == {
        (("tests", "hold", "minutes"),): pytest.approx(0.6931, abs=1e-4),
        (("tests", "measure", "minutes"), ("setups", "raised", "minutes")): pytest.approx(0.0),
        (("faults", "hose", "repair", "minutes"),): pytest.approx(-0.6931, abs=1e-4),
        (("faults", "hose", "repair", "price"),): pytest.approx(-0.6931, abs=1e-4),
    }


def test_the_engine_reads_what_the_page_gives_it(tmp_path: Path) -> None:
    """The same case as in tests/scripts/record.test.js."""
    at = "2026-01-05T18:00:00Z"
    result = {"type": "result", "test": "look", "observation": "wet", "outcome": "fail"}
    entries = [
        {
            "type": "intake",
            "codes": {"P0411": "stored"},
            "read": True,
            "complaints": ["howls"],
        },
        {"type": "safety"},
        result,
        result | {"observation": "split", "likelihood": [0.4, 0.6]},
        {"type": "step", "step": "fit"},
        {"type": "repair", "fault": "valve"},
        {"type": "recheck", "result": "cured"},
    ]
    found = {
        "form": "baybook/bench-sheet",
        "version": 2,
        "id": "12345678",
        "changed": at,
        "vehicle": "x",
        "events": [entry | {"at": at, "procedure": "air"} for entry in entries],
    }
    (tmp_path / "one.json").write_text(json.dumps(found), "utf-8")
    events: list[SheetEvent] = read_sheet(tmp_path / "one.json").events
    assert history(events) == [
        {"code": "P0411", "state": "stored"},
        {"codes": "all"},
        {"complaint": "howls"},
        {"test": "look", "observation": "wet", "result": "abnormal"},
        {"test": "look", "observation": "split", "result": {"likelihood": [0.4, 0.6]}},
        {"repair": "valve"},
        {"recheck": "cured"},
    ]


@pytest.mark.parametrize(
    ("price", "counts"),
    [
        *((price, True) for price in ("48", "EUR 48.50", "48,5 €")),
        *((price, False) for price in ("", "dear", "4800", "2", "12 and 13", "48.123")),
    ],
)
def test_a_price_is_a_plain_amount_near_the_authors(
    network: dict[str, Any], price: str, counts: bool
) -> None:
    at = datetime(2026, 1, 5, tzinfo=UTC)
    first = SheetEvent(type="safety", at=at, procedure="air")
    fitted = SheetEvent(type="repair", at=at, procedure="air", fault="hose", price=price)
    found = [span.paths[0] for span in spans(network, [first, fitted])]
    assert found == ([("faults", "hose", "repair", "price")] if counts else [])
