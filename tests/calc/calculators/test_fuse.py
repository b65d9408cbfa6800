"""The fuse for a load, its inrush, its conductor and a dead short."""

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baycalc import api
from baycalc.physics.copper import area_from_awg

KELVIN = 273.15


def notes(**fields: str) -> list[tuple[str, str]]:
    return [(note["signal"], note["text"]) for note in api.run("fuse", fields)["notes"]]


# A fuse maker's selection guide: at most 75 % of the rating at 25 °C. Series of ISO 8820-3.
@pytest.mark.parametrize(
    ("load", "rating"), [(0.7, 1), (3, 4), (7.5, 10), (11.25, 15), (15, 20), (18, 25), (30, 40)]
)
def test_rule_of_three_quarters(compute: Any, load: float, rating: float) -> None:
    found = compute(meter_error="0 %", load=f"{load} A", inrush="0", ambient="25 °C")
    assert found["rating"] == rating
    assert found["rating_needed"] == pytest.approx(load / 0.75)


def test_a_warm_place_needs_a_larger_rating(compute: Any) -> None:
    # NASA EEE-INST-002: 0.2 % for each degree above 25 °C, so 12 % less at 85 °C.
    found = compute(load="12 A", inrush="0", ambient="85 °C", insulation="105")
    assert found["rating_needed"] == pytest.approx(12 / 0.75 / 0.88)
    assert found["rating"] == 20


def test_the_inrush_may_ask_for_more_than_the_load(compute: Any) -> None:
    # Ramp ip²t/3 and 29 % for 10 000 pulses: a fuse maker's selection guide. Least i²t 0.72 s
    # times the rating squared: the least opening time at 600 % of ISO 8820-3 (from memory).
    found = compute(load="10 A", inrush="60 A", inrush_time="0.15 s", ambient="25 °C")
    integral = 60**2 * 0.15 / 3
    assert found["rating"] == 30
    assert found["inrush_share"] == pytest.approx(integral / (0.72 * 30**2 * 0.29))
    assert integral > 0.72 * 25**2 * 0.29
    assert "the inrush asks for 30 A" in found["why"]


def test_a_fitted_fuse_is_looked_at(compute: Any) -> None:
    found = compute(load="18 A", fitted="20 A")
    assert found["rating"] == 30
    assert found["load_verdict"] == "fail"
    assert found["inrush_ok"] is False
    assert found["inrush_share"] == pytest.approx(180 / (0.72 * 20**2 * 0.29))


@pytest.mark.parametrize(
    ("load", "verdict"), [("14.6 A", "pass"), ("15 A", "too close to call"), ("15.4 A", "fail")]
)
def test_load_held_against_three_quarters_of_20_amperes(
    compute: Any, load: str, verdict: str
) -> None:
    fields = {"load": load, "inrush": "0", "ambient": "25 °C", "fitted": "20 A"}
    assert compute(**fields, meter_error="2 %")["load_verdict"] == verdict


def test_dead_short_opens_at_once(compute: Any) -> None:
    # 450 A is 15 times 30 A: the times at 600 % (0.02 and 0.1 s) divided by (15/6)².
    found = compute(source_resistance="30 mohm", supply="13.5 V", length="0.05 m", fitted="30 A",
                    conductor="100 mm2")  # fmt: skip
    assert found["short_current"] == pytest.approx(450, rel=1e-3)
    assert found["opening_least"] == pytest.approx(0.02 / 2.5**2, rel=2e-3)
    assert found["opening_greatest"] == pytest.approx(0.1 / 2.5**2, rel=2e-3)
    assert found["short_opens"] is True


def test_a_thin_long_line_does_not_open_the_fuse(compute: Any) -> None:
    fields = {"load": "2 A", "inrush": "0", "fitted": "20 A", "conductor": "0.5 mm2"}
    fields["length"] = "15 m"
    found = compute(**fields)
    assert found["short_current"] < 1.35 * 20
    assert found["short_opens"] is False
    assert "opening_greatest" not in found
    assert (
        "caution",
        "A dead short at the far end does not open this fuse quickly: the line is too thin or too "
        "long for it, and heats up meanwhile.",
    ) in notes(**fields)


def test_a_fuse_that_opens_too_late_for_the_insulation(compute: Any) -> None:
    fields = {"load": "2 A", "inrush": "0", "fitted": "40 A", "conductor": "0.35 mm2"}
    fields |= {"length": "1 m", "insulation": "105"}
    found = compute(**fields)
    assert found["opening_greatest"] < 0.5
    assert found["short_opens"] is False
    assert ("caution", "A dead short opens this fuse, but may hurt the insulation before it does."
            ) in notes(**fields)  # fmt: skip


# 33 CFR 183.425, Table 5: AWG 12 with insulation for 105 °C may carry 45 A at 30 °C and 38 A in an
# engine space of 50 °C (45 x 0.85).
@pytest.mark.parametrize(("ambient", "current"), [("30 °C", 45), ("122 °F", 38)])
def test_conductor_limit(compute: Any, ambient: str, current: float) -> None:
    found = compute(conductor="AWG 12", insulation="105", ambient=ambient)
    assert found["conductor_limit"] == pytest.approx(current, rel=0.015)


def test_drop_in_the_line(compute: Any) -> None:
    # ASTM B258: AWG 14 has 2.525 ohm per 1000 ft at 20 °C; the conductor is a little warmer.
    found = compute(load="1 A", inrush="0", conductor="AWG 14", length="100 ft", ambient="20 °C")
    assert found["drop"] == pytest.approx(0.2525, rel=2e-3)
    assert found["drop_share"] == pytest.approx(0.2525 / 13.5, rel=2e-3)


def test_a_fuse_too_large_for_the_conductor_is_warned_of() -> None:
    told = notes(load="5 A", inrush="0", fitted="40 A", conductor="1 mm2")
    signals = [signal for signal, text in told if "does not protect a conductor" in text]
    assert signals == ["warning"]


@pytest.mark.parametrize("fields", [{}, {"fitted": "10 A"}, {"load": "90 A", "inrush": "0"}])
def test_the_symptom_is_always_told(fields: dict[str, str]) -> None:
    assert ("warning", "A fuse that blows again is a symptom: a short, a seized motor, a chafed "
            "lead. A larger one lets the harness overheat and burn. Find the cause, and never fit "
            "a larger fuse than the vehicle's diagram names.") in notes(**fields)  # fmt: skip


def test_no_fuse_of_the_series(compute: Any) -> None:
    found = compute(load="60 A", inrush="0", ambient="25 °C")
    assert "rating" not in found
    assert found["why"].endswith("60.0 A needs 80.0 A. The series ends at 40 A.")
    assert (
        compute(meter_error="0 %", load="60 A", inrush="0", ambient="25 °C", style="high current")[
            "rating"
        ]
        == 80
    )


@pytest.mark.parametrize(
    ("fields", "problems"),
    [
        (
            {"inrush": "5 A"},
            {"inrush": "The inrush is the peak when the load starts and cannot be less than the "
             "steady load of 18.0 A; type 0 where there is none."},
        ),
        (
            {"ambient": "90 °C"},
            {"ambient": "This place is hotter than an insulation for 90 °C bears: no current is "
             "allowed here."},
        ),
        ({"load": "-3 A"}, {"load": "Expected at least 0.01 A, got -3 A."}),
        ({"load": "12 V"}, {"load": "“V” is a unit of voltage; expected current: A, mA."}),
        ({"conductor": ""}, {"conductor": "Missing: type a number."}),
    ],
)  # fmt: skip
def test_refusals(fields: dict[str, str], problems: dict[str, str]) -> None:
    assert api.run("fuse", fields) == {"errors": problems}


def test_the_drawing_shows_band_load_inrush_and_short() -> None:
    drawing = api.run("fuse", {})["drawing"]
    for part in ("opening time of 30 A (ISO 8820-3)", "steady load", "inrush", "dead short"):
        assert part in drawing
    assert ">dead short</text>" in drawing
    assert "inrush, as a block" not in api.run("fuse", {"inrush": "0"})["drawing"]


@given(st.floats(0.1, 25), st.floats(1.0, 4))
def test_more_load_never_needs_a_smaller_fuse(compute: Any, load: float, factor: float) -> None:
    small = compute(load=f"{load!r} A", inrush="0", style="high current")
    large = compute(load=f"{load * factor!r} A", inrush="0", style="high current")
    assert large["rating_needed"] == pytest.approx(small["rating_needed"] * factor)
    assert large.get("rating", math.inf) >= small["rating"]


@given(st.floats(1, 30), st.floats(0.1, 20), st.integers(6, 20))
def test_units_commute(compute: Any, load: float, length: float, size: int) -> None:
    metric = compute(load=f"{load!r} A", inrush="0", length=f"{length!r} m",
                     conductor=f"{area_from_awg(size) * 1e6!r} mm2", ambient="50 °C")  # fmt: skip
    other = compute(load=f"{load * 1000!r} mA", inrush="0 A", length=f"{length / 0.3048!r} ft",
                    conductor=f"AWG {size}", ambient="122 °F")  # fmt: skip
    for name, value in metric.items():
        expected = pytest.approx(value, rel=1e-9) if isinstance(value, float) else value
        assert other[name] == expected


@given(st.floats(0.5, 10), st.floats(1, 20), st.floats(1.01, 5))
def test_the_drop_grows_with_length(
    compute: Any, load: float, length: float, factor: float
) -> None:
    short = compute(load=f"{load!r} A", inrush="0", length=f"{length!r} m")["drop"]
    longer = min(50.0, length * factor)
    long = compute(load=f"{load!r} A", inrush="0", length=f"{longer!r} m")["drop"]
    assert long == pytest.approx(short * longer / length)


def test_the_next_rating_where_the_meter_leaves_doubt(compute: Any) -> None:
    """1.5 A need 2.00 A by the rule: a fuse of 2 A could not be shown to carry them."""
    fields = {"load": "1.5 A", "ambient": "25 °C", "conductor": "2.5 mm2", "inrush": "1.5 A"}
    found = compute(**fields)
    assert (found["rating"], found["load_verdict"]) == (3, "pass")
    assert "With the error of the meter it may be 0.0346 A more." in found["why"]
    assert compute(meter_error="0 %", **fields)["rating"] == 2


def test_factors_of_the_maker(compute: Any) -> None:
    """A share of 70 % at 25 °C and 0.95 of it in the heat: 1.5 A need 2.256 A."""
    own = {"derating": "given", "own_share": "70 %", "own_factor": "95 %"}
    found = compute(load="1.5 A", inrush="0", **own)
    assert found["rating_needed"] == pytest.approx(1.5 / 0.7 / 0.95)
    assert found["why"].startswith("A continuous load may take 67\u202f% of the rating")


def test_the_headline_is_the_worst_of_all(run: Any) -> None:
    """A fuse that carries its load but does not protect its conductor is no pass."""
    answer = run(load="18 A", fitted="40 A", conductor="1 mm2")
    assert answer["results"]["load_verdict"]["outcome"] == "pass"
    assert answer["headline"]["outcome"] == "fail"
    assert answer["headline"]["text"].startswith("Fail. Fuse protects the conductor: no")
    good = run(load="5 A", inrush="0", ambient="25 °C", conductor="AWG 12")
    assert good["headline"]["outcome"] == "pass"
    assert len(good["conclusions"]) == 4
