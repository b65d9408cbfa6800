"""Titles and shapes of codes (SAE J2012; rows from memory, where the table says so too)."""

import re

import pytest

from baybook.book.codes import TITLES, code_problem, shape, title


@pytest.mark.parametrize(
    ("code", "said"),
    [
        ("P0030", "HO2S heater control circuit (bank 1 sensor 1)"),
        ("P0058", "HO2S heater control circuit high (bank 2 sensor 2)"),
        (
            "P0128",
            "Coolant thermostat (coolant temperature below thermostat regulating temperature)",
        ),
        ("P0133", "O2 sensor circuit slow response (bank 1 sensor 1)"),
        ("P0135", "O2 sensor heater circuit (bank 1 sensor 1)"),
        ("P0141", "O2 sensor heater circuit (bank 1 sensor 2)"),
        ("P0155", "O2 sensor heater circuit (bank 2 sensor 1)"),
        ("P0161", "O2 sensor heater circuit (bank 2 sensor 2)"),
        ("P0171", "System too lean (bank 1)"),
        ("P0304", "Cylinder 4 misfire detected"),
        ("P0312", "Cylinder 12 misfire detected"),
        ("P0410", "Secondary air injection system"),
        ("P0420", "Catalyst system efficiency below threshold (bank 1)"),
        ("P0455", "Evaporative emission system leak detected (large leak)"),
        ("P2440", "Secondary air injection system switching valve stuck open (bank 1)"),
        ("P0011", "A camshaft position timing over-advanced or system performance (bank 1)"),
        ("P0019", "Crankshaft position - camshaft position correlation (bank 2 sensor B)"),
        ("P0087", "Fuel rail/system pressure too low"),
        ("P013A", "O2 sensor slow response - rich to lean (bank 1 sensor 2)"),
        ("P0204", "Injector circuit - cylinder 4"),
        ("P0272", "Cylinder 4 contribution/balance"),
        ("P0299", "Turbocharger/supercharger underboost condition"),
        ("P0335", "Crankshaft position sensor A circuit"),
        ("P0354", "Ignition coil D primary/secondary circuit"),
        ("P2138", "Throttle/pedal position sensor D/E voltage correlation"),
        ("P2240", "O2 sensor positive current control circuit/open (bank 2 sensor 1)"),
        ("P2309", "Ignition coil D primary control circuit low"),
        ("P1411", ""),
    ],
)
def test_titles(code: str, said: str) -> None:
    assert title(code) == said


def test_every_code_has_the_shape_and_belongs_to_the_standard() -> None:
    assert [code for code in TITLES if not re.fullmatch(r"P[02][0-9A-F]{3}", code)] == []
    assert all(TITLES.values())


@pytest.mark.parametrize(
    ("code", "said"),
    [
        ("P1411", "P1411 is a powertrain code of the maker's own, auxiliary emission controls"),
        ("P0A80", "P0A80 is a powertrain code of SAE J2012"),
        ("P2999", "P2999 is a powertrain code of SAE J2012, transmission"),
        (
            "P3400",
            "P3400 is a powertrain code of a range shared by makers and SAE J2012, "
            "auxiliary emission controls",
        ),
        ("B1234", "B1234 is a body code of the maker's own"),
        ("U0100", "U0100 is a network code of SAE J2012"),
        ("p0410", "a code is a letter P, B, C or U, a digit from 0 to 3, and three hex digits"),
    ],
)
def test_shapes(code: str, said: str) -> None:
    assert shape(code) == said


def test_a_known_code_is_no_problem() -> None:
    assert code_problem("P0410") == ("", "")
    assert code_problem("P1411") == (
        "expected a code with a known title, got P1411",
        f"{shape('P1411')}; give it a title under `codes` of shared.yml",
    )
