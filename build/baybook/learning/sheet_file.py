"""A saved bench sheet, as far as it is read for learning: nothing in it that is personal."""

from datetime import datetime
from pathlib import Path
from typing import Any, Literal

import msgspec
from msgspec import Struct

LARGEST = 60_000_000
"""Bytes of the largest sheet that is read; photos make them large [-]."""

MOST_EVENTS = 20_000
"""Entries of a job, as the published schema bounds them [-]."""

Word = str
"""An id or a short text."""


class SheetEvent(Struct):
    """One entry of a job. What a person typed freely is not among its fields."""

    type: str
    at: datetime
    procedure: Word
    codes: dict[Word, Word] = {}
    read: bool = False
    complaints: list[Word] = []
    standing: Word = ""
    code: Word = ""
    stored: bool = True
    done: list[Word] = []
    skipped: list[Word] = []
    test: Word = ""
    observation: Word = ""
    band: Word | None = None
    outcome: Word = ""
    likelihood: tuple[float, float] | None = None
    fault: Word = ""
    price: Word = ""
    result: Word = ""


class Sheet(Struct):
    """One job, as far as it is read."""

    form: Literal["baybook/bench-sheet"]
    version: Literal[1, 2]
    id: Word
    changed: datetime
    vehicle: Word
    events: list[SheetEvent]
    book: Word = ""
    closed: Word = ""
    networks: dict[Word, Word] = {}


_DECODER = msgspec.json.Decoder(Sheet)


class NoSheet(Exception):
    """A file that cannot be read as a bench sheet; says why in a few words."""


def read_sheet(path: Path) -> Sheet:
    """Read one file.

    Raises
    ------
    NoSheet
        Where it is none, in one line.
    """
    try:
        if not path.is_file():
            raise NoSheet("is no plain file")
        size = path.stat().st_size
        if size > LARGEST:
            raise NoSheet(f"has {size} bytes, more than any bench sheet")
        sheet = _DECODER.decode(path.read_bytes())
    except OSError as error:
        raise NoSheet(f"cannot be read: {error.strerror}") from error
    except (msgspec.MsgspecError, UnicodeDecodeError, RecursionError, ValueError) as error:
        raise NoSheet(f"is no bench sheet: {_one_line(error)}") from error
    if len(sheet.events) > MOST_EVENTS:
        raise NoSheet(f"has {len(sheet.events)} entries, more than any job")
    if any(a.tzinfo is None for a in (sheet.changed, *(event.at for event in sheet.events))):
        raise NoSheet("is no bench sheet: a time without a zone")
    return sheet


def history(events: list[SheetEvent]) -> list[dict[str, Any]]:
    """Give a job as `baycalc.isolation` reads it; the page does the same (record.js)."""
    return [item for event in events for item in _engine_events(event)]


_RESULTS = {"pass": "normal", "fail": "abnormal"}


def _engine_events(event: SheetEvent) -> list[dict[str, Any]]:
    match event.type:
        case "intake":
            return [
                *({"code": code, "state": state} for code, state in event.codes.items()),
                *([{"codes": "all"}] if event.read else []),
                *({"complaint": name} for name in event.complaints),
                *([{"state": event.standing}] if event.standing else []),
            ]
        case "code":
            return [{"code": event.code, "state": "stored" if event.stored else "absent"}]
        case "opening":
            return [
                *({"opening": step, "result": "done"} for step in event.done),
                *({"opening": step, "result": "skipped"} for step in event.skipped),
            ]
        case "result":
            result: Any = event.band or _RESULTS.get(event.outcome, event.outcome)
            if event.likelihood:
                result = {"likelihood": list(event.likelihood)}
            return [{"test": event.test, "observation": event.observation, "result": result}]
        case "done" | "skipped":
            return [{"test": event.test, "result": event.type}]
        case "left":
            return [{"leave": event.fault}]
        case "repair":
            return [{"repair": event.fault}]
        case "outside" | "recheck":
            return [{event.type: event.result}]
    return []


def _one_line(error: Exception) -> str:
    return " ".join(str(error).split())[:200]
