"""Bench sheets that can be passed on: written anew from what learning reads, and nothing else."""

import hashlib
import re
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import msgspec

from baybook.learning.closed_jobs import whole_folder
from baybook.learning.sheet_file import NoSheet, Sheet, SheetEvent, read_sheet
from baybook.learning.work_times import AMOUNT

BEGIN = datetime(2000, 1, 1, tzinfo=UTC)
"""When every job of an anonymous sheet begins."""

_AN_ID = re.compile(r"[a-z][a-z0-9-]{0,60}")
_A_CODE = re.compile(r"[PBCU][0-3][0-9A-F]{3}")
_A_BOOK = re.compile(r"[a-z0-9-]{1,80}")
_A_KEY = re.compile(r"[0-9a-f]{8,64}")
_STATES = ("stored", "pending", "permanent", "absent")


def write_all(folder: Path, out: Path, tell: Callable[[str], None]) -> int:
    """Write the sheets of a folder anew, without anything personal.

    Parameters
    ----------
    folder, out : Path
        The sheets, and where to.
    tell : callable
        Told of each file that is no sheet.

    Returns
    -------
    written : int
        How many sheets [-]
    """
    out.mkdir(parents=True, exist_ok=True)
    written = set()
    for file in whole_folder(folder):
        try:
            written.add(write_anonymous(read_sheet(folder / file), out))
        except NoSheet as error:
            tell(f"left out: {file}: {error}")
    return len(written)


def write_anonymous(sheet: Sheet, folder: Path) -> Path:
    """Write a sheet without anything personal.

    Parameters
    ----------
    sheet : Sheet
        The job.
    folder : Path
        Where to.

    Returns
    -------
    path : Path
        The file; its name is the new id.

    Notes
    -----
    Only ids of the book, codes, verdicts and the time between entries are kept; what does not
    look like an id of a book is dropped. The date of the job is gone.
    """
    name = hashlib.sha256(sheet.id.encode()).hexdigest()[:32]
    path = folder / f"{name}.json"
    path.write_bytes(msgspec.json.encode(_anonymous(sheet, name)))
    return path


def _anonymous(sheet: Sheet, name: str) -> dict[str, Any]:
    first = sheet.events[0].at if sheet.events else sheet.changed
    events = [_event(event, _time(event.at, first)) for event in sheet.events]
    begun = _time(first, first)
    changed = _time(max(sheet.changed, first), first)
    return {
        "form": sheet.form,
        "version": 2,
        "id": name,
        "book": sheet.book if _A_BOOK.fullmatch(sheet.book) else "",
        "begun": begun,
        "changed": changed,
        "closed": changed,
        "car": {"plate": "", "order": "", "vin": "", "odometer": ""},
        "vehicle": _id(sheet.vehicle),
        "vehicleName": "",
        "page": "",
        "next": "",
        "technician": "",
        "networks": {
            procedure: key
            for procedure, key in sheet.networks.items()
            if _AN_ID.fullmatch(procedure) and _A_KEY.fullmatch(key)
        },
        "photos": [],
        "remarks": "",
        "events": [event for event in events if event],
    }


def _event(event: SheetEvent, at: str) -> dict[str, Any]:
    head = {"type": event.type, "at": at, "procedure": _id(event.procedure)}
    if event.type == "intake":
        codes = {c: s for c, s in event.codes.items() if _A_CODE.fullmatch(c) and s in _STATES}
        return head | {
            "codes": codes,
            "read": event.read,
            "complaints": _ids(event.complaints),
            "standing": event.standing if event.standing in ("cold", "warm", "raised") else "",
            "words": "",
        }
    if event.type == "code" and _A_CODE.fullmatch(event.code):
        return head | {"code": event.code, "stored": event.stored}
    if event.type == "opening":
        return head | {"done": _ids(event.done), "skipped": _ids(event.skipped)}
    if event.type == "result":
        return head | _result(event)
    if event.type in ("done", "skipped"):
        return head | {"test": _id(event.test), "testTitle": ""}
    if event.type == "repair":
        price = event.price if AMOUNT.fullmatch(event.price) else ""
        return head | {"fault": _id(event.fault), "says": "", "price": price}
    if event.type == "left":
        return head | {"fault": _id(event.fault), "says": ""}
    if event.type == "outside" and event.result in ("found", "not found"):
        return head | {"result": event.result}
    if event.type == "recheck" and event.result in ("cured", "not cured"):
        return head | {"result": event.result}
    return {}


def _result(event: SheetEvent) -> dict[str, Any]:
    outcomes = ("pass", "fail", "too close to call")
    found: dict[str, Any] = {
        "test": _id(event.test),
        "testTitle": "",
        "observation": _id(event.observation),
        "asked": "",
        "text": "",
        "outcome": event.outcome if event.outcome in outcomes else "too close to call",
    }
    if event.band:
        found["band"] = _id(event.band)
    if event.likelihood:
        found["likelihood"] = list(event.likelihood)
    return found


def _id(text: str) -> str:
    return text if _AN_ID.fullmatch(text) else ""


def _ids(texts: list[str]) -> list[str]:
    return [text for text in texts if _AN_ID.fullmatch(text)]


def _time(at: datetime, first: datetime) -> str:
    moved = BEGIN + (at - first)
    return moved.isoformat(timespec="milliseconds").replace("+00:00", "Z")
