"""Bench sheets into closed jobs; what is left out is told with its reason."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from baybook.learning.patterns import Pattern, pattern_of
from baybook.learning.sheet_file import NoSheet, Sheet, SheetEvent, history, read_sheet
from baybook.learning.smoother import Smoother
from baybook.learning.work_times import Span, spans
from baycalc.isolation.inference.evidence import Event
from baycalc.isolation.model.bayes_net import Model
from baycalc.isolation.model.fault_model import OUTSIDE
from baycalc.isolation.model.read_network import from_data
from baycalc.isolation.read_events import read_events


@dataclass(frozen=True, slots=True)
class ClosedJob:
    """What one sheet says of one procedure.

    Attributes
    ----------
    network : str
        Key of the network.
    pattern : Pattern
        What was seen.
    spans : tuple of Span
        How long things took.
    codes, complaints, abnormal, normal, skipped : tuple of str
        Codes stored, complaints told, tests by what they showed, tests and steps left out.
    unexplained : bool
        Whether its cause was not in the list, or was not found at all.
    proofs, came_back : int
        Proofs that passed, and those after which a proof failed or a repair followed [-].
    """

    network: str
    pattern: Pattern
    spans: tuple[Span, ...]
    codes: tuple[str, ...]
    complaints: tuple[str, ...]
    abnormal: tuple[str, ...]
    normal: tuple[str, ...]
    skipped: tuple[str, ...]
    unexplained: bool
    proofs: int
    came_back: int


@dataclass(frozen=True, slots=True)
class ReadSheet:
    """What became of one file.

    Attributes
    ----------
    file : str
        Its path, seen from the folder.
    id : str
        Id of the sheet; empty where the file is none.
    changed : datetime, optional
        When it was last changed.
    jobs : tuple of ClosedJob
        One for each procedure in it that counts.
    why : str
        Why it, or a procedure in it, is left out.
    """

    file: str
    id: str = ""
    changed: datetime | None = None
    jobs: tuple[ClosedJob, ...] = ()
    why: str = ""


class SheetReader:
    """Reads sheets of one book.

    Parameters
    ----------
    book : str
        Id of the book.
    networks : mapping
        Its networks as plain data, by their keys.
    """

    def __init__(self, book: str, networks: Mapping[str, dict[str, Any]]) -> None:
        self.book = book
        self.networks = networks
        self._smoothers: dict[str, Smoother] = {}

    def read(self, folder: Path, file: str) -> ReadSheet:
        """Read one file of a folder."""
        try:
            sheet = read_sheet(folder / file)
        except NoSheet as error:
            return ReadSheet(file, why=str(error))
        if why := self._whole_sheet_is_out(sheet):
            return ReadSheet(file, sheet.id, sheet.changed, (), why)
        jobs, reasons = [], []
        for procedure in dict.fromkeys(event.procedure for event in sheet.events):
            key = sheet.networks.get(procedure, "")
            if key not in self.networks:
                reasons.append(f"{procedure}: its network has changed since, or is of no car here")
                continue
            try:
                jobs.append(self._job(key, [e for e in sheet.events if e.procedure == procedure]))
            except ValueError as error:
                reasons.append(f"{procedure}: {error}")
        return ReadSheet(file, sheet.id, sheet.changed, tuple(jobs), "; ".join(reasons))

    def _whole_sheet_is_out(self, sheet: Sheet) -> str:
        if sheet.version == 1:
            return "is of the first form, which noted no network"
        if not sheet.closed:
            return "is still open"
        if sheet.book != self.book:
            return "was written with another book"
        return "" if sheet.events else "has no entries"

    def _smoother(self, key: str) -> Smoother:
        if key not in self._smoothers:
            self._smoothers[key] = Smoother(Model(from_data(self.networks[key])))
        return self._smoothers[key]

    def _job(self, key: str, entries: list[SheetEvent]) -> ClosedJob:
        smoother = self._smoother(key)
        model = smoother.model
        events, unknown = read_events(model, history(entries))
        if unknown:
            raise ValueError(f"an entry is not of this network: {unknown[0][1]}")
        if not any(event.tells or event.key.kind == "repair" for event in events):
            raise ValueError("nothing was found out")
        pattern = pattern_of(model, events)
        if not smoother.weigh(pattern)[1]:
            raise ValueError("its entries contradict each other")
        proofs = [event for event in entries if event.type in ("recheck", "repair")]
        passed = [n for n, event in enumerate(proofs) if event.result == "cured"]
        return ClosedJob(
            network=key,
            pattern=pattern,
            spans=tuple(spans(self.networks[key], entries)),
            codes=_names(events, "code"),
            complaints=_names(events, "complaint"),
            abnormal=_tests(events, abnormal=True),
            normal=_tests(events, abnormal=False),
            skipped=tuple(dict.fromkeys(e.key.name for e in events if not e.done and e.key.name)),
            unexplained=_is_unexplained(entries),
            proofs=len(passed),
            came_back=sum(place < len(proofs) - 1 for place in passed),
        )


def _names(events: list[Event], kind: str) -> tuple[str, ...]:
    found = (e.key.name for e in events if e.key.kind == kind and e.likelihood[1] > e.likelihood[0])
    return tuple(dict.fromkeys(found))


def _tests(events: list[Event], abnormal: bool) -> tuple[str, ...]:
    tests = [event for event in events if event.key.kind == "test" and event.tells]
    bad = {e.key.name for e in tests if max(e.likelihood[1:]) > e.likelihood[0]}
    return tuple(dict.fromkeys(e.key.name for e in tests if (e.key.name in bad) == abnormal))


def _is_unexplained(entries: list[SheetEvent]) -> bool:
    """Tell whether the cause lay outside, or the job ended without a proof that passed."""
    if any(event.type == "outside" for event in entries):
        return True
    if any(event.type == "repair" and event.fault == OUTSIDE for event in entries):
        return True
    ends = [event.result for event in entries if event.type == "recheck"]
    return not ends or ends[-1] != "cured"


def whole_folder(folder: Path) -> list[str]:
    """List the sheets of a folder and of those in it, in the order of their names."""
    return sorted(path.relative_to(folder).as_posix() for path in folder.rglob("*.json"))


def without_copies(read: list[ReadSheet]) -> tuple[list[ReadSheet], list[ReadSheet]]:
    """Keep of the sheets with one id the one that was changed last.

    Returns
    -------
    kept, left_out : list of ReadSheet
        In the order of their names.
    """
    newest: dict[str, ReadSheet] = {}
    for sheet in read:
        if sheet.id and sheet.changed:
            other = newest.get(sheet.id)
            if other is None or (other.changed and sheet.changed > other.changed):
                newest[sheet.id] = sheet
    kept, copies = [], []
    for sheet in read:
        first = newest.get(sheet.id, sheet)
        if first is sheet:
            kept.append(sheet)
        else:
            copies.append(ReadSheet(sheet.file, why=f"is the same job as {first.file}"))
    return kept, copies
