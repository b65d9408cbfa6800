"""A catalyst by the swing of its rear sensor, and by the oxygen that it stores."""

from typing import Any

import pytest

from baycalc import api
from baycalc.physics.mixture import added_air_oxygen, oxygen_over


# Worked by hand from the balance of oxygen (23.14 % of the air by mass): 20 g/s of air at lambda
# 1.05 leave 20 x 0.2314 x 0.05/1.05 = 0.2204 g/s over, 0.441 g in two seconds; at lambda 0.95 they
# lack 20 x 0.2314 x 0.05/0.95 = 0.2436 g/s.
@pytest.mark.parametrize(
    ("mixture", "delay", "grams"), [("1.05", "2 s", 0.4408), ("0.95", "1 s", 0.2436)]
)
def test_oxygen_by_hand(compute: Any, mixture: str, delay: str, grams: float) -> None:
    found = compute(by="delay", air_flow="20 g/s", mixture=mixture, delay=delay)
    assert found["stored"] * 1e3 == pytest.approx(grams, rel=1e-3)


def test_the_share_of_oxygen_in_air_by_mass() -> None:
    """CIPM-2007: 20.9392 % by volume, 31.9988 g/mol in air of 28.9655 g/mol."""
    assert oxygen_over(1e9) == pytest.approx(0.209392 * 31.9988 / 28.96546, rel=1e-3)


def test_the_surplus_against_the_oxygen_of_the_dry_gas() -> None:
    """The formula of the dry exhaust gas, by volume, gives the same surplus at lambda 1.2."""
    by_volume = added_air_oxygen(1.2, 0.0, True)
    # Moles of dry gas for one mole of O2 burned (CH1.85): CO2 1/1.4625, N2 and rest 3.773 x 1.2,
    # and O2 0.2 left over; the same O2 in mass of air: 31.999 x 0.2/(1.2 x 4.773 x 28.965).
    dry = 1 / 1.4625 + 3.773 * 1.2 + 0.2
    assert by_volume == pytest.approx(0.2 / dry, rel=0.01)
    assert oxygen_over(1.2) == pytest.approx(31.999 * 0.2 / (1.2 * 4.773 * 28.965), rel=2e-3)


@pytest.mark.parametrize(
    ("fields", "outcome"),
    [
        ({}, "pass"),
        ({"rear_high": "0.80 V", "rear_low": "0.15 V"}, "fail"),
        ({"rear_high": "0.72 V", "rear_low": "0.37 V"}, "too close to call"),
    ],
)
def test_swing(compute: Any, fields: dict[str, str], outcome: str) -> None:
    assert compute(**fields)["verdict"] == outcome


def test_share_of_swing_and_of_crossings(compute: Any) -> None:
    found = compute(front_high="0.8 V", front_low="0.2 V", rear_high="0.7 V", rear_low="0.55 V")
    assert found["swing_share"] == pytest.approx(0.25)
    assert found["switch_share"] == pytest.approx(1 / 20)
    assert "switch_share" not in compute(rear_switches="")


def test_uncertainty_of_the_swing_by_gum(run: Any) -> None:
    from uncertainties import ufloat

    def volts(value: float) -> Any:
        return ufloat(value, ((0.01 * value) ** 2 / 3 + 0.005**2 / 12) ** 0.5)

    share = (volts(0.71) - volts(0.62)) / (volts(0.82) - volts(0.12))
    told = run()["results"]["verdict"]["us"]
    assert f"guard band {200 * share.s:.1f} %" in told


def test_uncertainty_of_the_oxygen_by_gum(compute: Any) -> None:
    from uncertainties import ufloat

    mixture, delay = ufloat(1.05, 0.005 / 3**0.5), ufloat(1.8, 0.2 / 3**0.5)
    stored = 0.015 * 0.2314 * (mixture - 1) / mixture * delay
    assert compute(by="delay")["stored_uncertainty"] == pytest.approx(2 * stored.s, rel=1e-3)


@pytest.mark.parametrize(
    ("least", "outcome"),
    [("0.1 g", "pass"), ("0.5 g", "fail"), ("0.29 g", "too close to call")],
)
def test_oxygen_against_what_it_must_store(compute: Any, least: str, outcome: str) -> None:
    assert compute(by="delay", least_oxygen=least)["oxygen_verdict"] == outcome


def test_a_front_sensor_that_hardly_swings(run: Any) -> None:
    notes = run(front_high="0.5 V", front_low="0.3 V", rear_low="0.7 V")["notes"]
    assert notes[0]["text"].startswith("The front sensor itself hardly swings")


def test_refusals() -> None:
    errors = api.run("catalyst_oxygen", {"front_high": "0.1 V", "rear_high": "0.2 V"})["errors"]
    assert errors == {
        "front_high": "The front sensor does not swing: no catalyst can be judged.",
        "rear_high": "The highest value lies below the lowest one.",
    }
    assert api.run("catalyst_oxygen", {"by": "delay", "mixture": "1"})["errors"] == {
        "mixture": "At lambda 1 nothing is stored: type the new mixture."
    }
