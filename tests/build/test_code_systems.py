"""Every generic powertrain code leads somewhere: to a procedure, or to a sentence."""

from pathlib import Path

import pytest

from baybook.book.code_systems import no_way, system_of, treated
from baybook.book.codes import TITLES, title
from baybook.book.sources.load import load_book

ROOT = Path(__file__).parents[2]


@pytest.mark.parametrize(
    ("code", "system"),
    [
        ("P0011", "valve timing control"),
        ("P0034", "charge air bypass valve"),
        ("P0036", "oxygen sensor heater"),
        ("P0299", "boost control"),
        ("P0411", "secondary air"),
        ("P042E", "exhaust gas recirculation"),
        ("P0472", "exhaust pressure control of diesel engines"),
        ("P2240", "wide-band oxygen sensors"),
        ("P2999", ""),
        ("B1234", ""),
    ],
)
def test_system(code: str, system: str) -> None:
    assert system_of(code) == system


def test_the_sentence_of_a_code_without_a_procedure() -> None:
    assert no_way("P0470") == (
        "Exhaust pressure sensor. System: exhaust pressure control of diesel engines. "
        "This book has no procedure for it. Diesel is another book."
    )
    assert no_way("P0423") == (
        "Heated catalyst efficiency below threshold (bank 1). "
        "System: electrically heated catalyst. This book has no procedure for it."
    )


def test_a_code_without_a_procedure_is_told_who_treats_its_system() -> None:
    near = treated([("Coil circuits", ["P0351", "B1234"]), ("Lean mixture", ["P0171"])])
    assert near == {
        "ignition coil circuits": ("Coil circuits",),
        "mixture and fuel trim": ("Lean mixture",),
    }
    assert no_way("P0357", near) == (
        "Ignition coil G primary/secondary circuit. System: ignition coil circuits. "
        "This book has no procedure for it. For other codes of this system: Coil circuits."
    )


def test_every_titled_code_has_a_system() -> None:
    assert [code for code in TITLES if not system_of(code)] == []


def test_every_code_of_the_table_leads_somewhere(capsys: pytest.CaptureFixture[str]) -> None:
    """Printed for authors: `pytest -s` shows where each code leads."""
    procedures = load_book(ROOT / "procedures").procedures
    leads = {
        code: [name for name, source in procedures.items() if code in source.data.codes]
        for code in sorted(TITLES)
    }
    for code, names in leads.items():
        print(f"{code}  {title(code)[:60]:60}  {', '.join(names) or no_way(code)}")
    told = capsys.readouterr().out.splitlines()
    assert len(told) == len(TITLES)
    assert all(names or system_of(code) for code, names in leads.items())
    assert {"P0172", "P0050"} <= set(leads)
