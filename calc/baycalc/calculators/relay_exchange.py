"""May one relay stand in for another one for a test, and if not, why not."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from baycalc.forms.declare import Answer, Calculator, Note, Value, refuse
from baycalc.forms.form import (
    YES_IS_GOOD,
    choice,
    flag,
    form,
    hand_over,
    phrases,
    practice,
    published,
    quantity,
    result,
    taking,
    text,
    verdict,
    yes_or_no,
)
from baycalc.forms.shared_inputs import Meter, electric_meter, relay_temperature
from baycalc.measurement.decision import FAIL, PASS, Limit, Verdict, judge
from baycalc.physics.relays import contact_limit
from baycalc.quantities.kinds import AMPERES, CURRENT, PER_CENT, RESISTANCE, VOLTS

_MORE_COIL_CURRENT = 1.25
_OTHER_VOLTAGE = 3.0

_TERMINALS = {
    "make": "30, 85, 86, 87",
    "changeover": "30, 85, 86, 87, 87a",
    "double make": "30, 85, 86, 87, 87b (or 87 twice)",
}
_SUPPRESSIONS = {
    "none": "none",
    "resistor": "resistor",
    "diode to 86": "diode, its bar at 86",
    "diode to 85": "diode, its bar at 85",
}


@dataclass(frozen=True, slots=True)
class _Check:
    """One thing that must fit: whether it does, and the sentence that says so."""

    fits: bool
    says: str


def _current(label: str, default: str | None, low: str = "0.01 A") -> Any:
    return quantity(label, CURRENT, default, f"{low} to 1000 A")


def _coil_input(label: str, default: str) -> Any:
    return quantity(label, RESISTANCE, default, "1 ohm to 100 kohm").says(
        "Between 85 and 86, both relays at the same temperature."
    )


@form
class Exchange:
    """Two relays, the load and the socket."""

    same_places: bool = flag("Same terminals at the same places", True).says(
        "Compare the drawings on the housings: in one layout 30 and 86 are changed over."
    )
    original_terminals: str = choice("Terminals of the original", _TERMINALS)
    other_terminals: str = choice("Terminals of the other relay", _TERMINALS)
    rest_contact_used: bool = flag("The circuit uses 87a").says("", "original_terminals=changeover")
    load: float = _current("Steady load", "18 A")
    inrush: float = _current("Inrush, peak", "60 A", "0 A").says("0 where there is none.")
    cool_limit: float = _current("Contact may carry, cool", "60 A").says(
        "Data sheet; 60 A is an example."
    )
    cool: float = relay_temperature("Cool is an air temperature of", "23 °C")
    hot_limit: float = _current("Contact may carry, hot", "40 A", "0 A").says(
        "Data sheet; 40 A is an example."
    )
    hot: float = relay_temperature("Hot is an air temperature of", "85 °C")
    making_limit: float | None = _current("Contact may switch on", None).says(
        "Data sheet; may stay empty."
    )
    ambient: float = relay_temperature("Temperature at the relay", "85 °C")
    supply: float = quantity("Voltage at the coil", VOLTS, "13.5 V", "4 V to 60 V")
    original_coil: float = _coil_input("Coil of the original", "88 ohm")
    other_coil: float = _coil_input("Coil of the other relay", "92 ohm")
    driver_limit: float | None = _current("Driver gives at most", None).says("May stay empty.")
    original_suppression: str = choice(
        "Suppression in the original", _SUPPRESSIONS, default="resistor"
    ).says("Drawn on the housing. With a diode, measure both ways round.")
    other_suppression: str = choice(
        "Suppression in the other relay",
        _SUPPRESSIONS | {"unknown": "not known"},
        default="resistor",
    )
    positive_terminal: str = choice("Plus of the coil comes at", {"86": "86", "85": "85"}).says(
        "Measure at the empty socket with the relay called for."
    )
    meter: Meter = electric_meter("current meter", AMPERES, "2 %", "0.1 A")

    def limit(self) -> float:
        """Return the steady current that the other contact may carry here [A]."""
        return contact_limit(self.cool_limit, self.cool, self.hot_limit, self.hot, self.ambient)


def relay_exchange(asked: Exchange) -> Answer:
    """Hold a relay that should stand in for a test against the one it replaces.

    Raises
    ------
    Refusal
        When the two points of the data sheet are not in order.
    """
    _refuse_impossible(asked)
    verdict = judge(
        asked.load,
        asked.meter.gauge().uncertainty(asked.load),
        Limit(high=asked.limit()),
        kind=AMPERES,
        advice="measure the load with a better meter, or try a relay with a larger contact",
    )
    coil, original = asked.supply / asked.other_coil, asked.supply / asked.original_coil
    checks = {
        "terminals_fit": _terminals(asked),
        "contact_fits": _contact(asked, verdict),
        "coil_fits": _coil(coil, original, asked.driver_limit),
        "suppression_fits": _suppression(asked),
    }
    values: dict[str, Value] = {
        "allowed": all(check.fits for check in checks.values()),
        "reason": _reason(checks),
        "contact_limit": asked.limit(),
        "load_verdict": verdict,
        "coil_current": coil,
        "original_coil_current": original,
        "coil_share": coil / original,
    }
    values |= {name: check.fits for name, check in checks.items()}
    return Answer(values=values, notes=tuple(_notes(asked)))


def _refuse_impossible(asked: Exchange) -> None:
    refuse(
        hot=asked.hot <= asked.cool and "Must be warmer than the first point of the data sheet.",
        hot_limit=asked.hot_limit > asked.cool_limit
        and "A contact cannot carry more when it is hotter.",
        inrush=0 < asked.inrush < asked.load
        and "The inrush is the peak when the load starts and cannot be less than the steady load; "
        "type 0 where there is none.",
    )


def _terminals(asked: Exchange) -> _Check:
    original, other = asked.original_terminals, asked.other_terminals
    if not asked.same_places:
        return _Check(
            False,
            "The terminals are not at the same places: with 30 and 86 changed over, the coil's "
            "supply meets the load's.",
        )
    if original == other:
        return _Check(True, "The terminals are the same.")
    if original == "changeover" and asked.rest_contact_used:
        return _Check(False, "The circuit uses 87a, and the other relay has none.")
    if original == "double make":
        return _Check(False, "The second output would be dead, or live while the relay is at rest.")
    if other == "double make" and original == "changeover":
        return _Check(False, "Its second output would feed the place of 87a.")
    return _Check(
        True, "The terminals that the circuit uses are there. The fifth place must stay empty."
    )


def _contact(asked: Exchange, verdict: Verdict) -> _Check:
    carries = f"At this temperature its contact may carry {AMPERES.written(asked.limit())}"
    making = asked.making_limit
    if making is not None and asked.inrush > making:
        return _Check(
            False,
            f"The inrush of {AMPERES.written(asked.inrush)} may weld a contact that switches "
            f"{AMPERES.written(making)} on.",
        )
    if verdict.outcome == FAIL:
        return _Check(False, f"{carries}, less than the load.")
    if verdict.outcome != PASS:
        return _Check(False, f"{carries}, too close to the load to call.")
    return _Check(True, f"{carries}, enough for the load.")


def _coil(coil: float, original: float, driver_limit: float | None) -> _Check:
    takes = f"Its coil takes {AMPERES.written(coil)}"
    if driver_limit is not None and coil > driver_limit:
        return _Check(False, f"{takes}, more than the driver may give.")
    if driver_limit is None and coil > _MORE_COIL_CURRENT * original:
        return _Check(
            False,
            f"{takes}, much more than the original's {AMPERES.written(original)}: its driver may "
            "not bear that.",
        )
    if coil * _OTHER_VOLTAGE < original:
        return _Check(
            False, f"{takes}, so little that it is perhaps a relay for another supply voltage."
        )
    if driver_limit is None:
        return _Check(True, f"{takes}, not much more than the original's.")
    return _Check(True, f"{takes}, within what the driver may give.")


def _suppression(asked: Exchange) -> _Check:
    other, positive = asked.other_suppression, asked.positive_terminal
    if other == "unknown":
        return _Check(
            False, "Measure first what lies in parallel with its coil, and which way round."
        )
    if other.startswith("diode") and not other.endswith(positive):
        return _Check(
            False,
            f"Its diode would lie the wrong way round: plus comes at {positive}, so it shorts the "
            "driver at the first click.",
        )
    if asked.original_suppression != "none" and other == "none":
        return _Check(
            False,
            "It has nothing to quench the spike of its coil, and the original has: the spike can "
            "kill the driver.",
        )
    return _Check(True, "The spike of its coil is dealt with as well as before.")


def _reason(checks: Mapping[str, _Check]) -> str:
    wrong = [check.says for check in checks.values() if not check.fits]
    return " ".join(wrong or [check.says for check in checks.values()])


def _notes(asked: Exchange) -> Iterator[Note | str]:
    yield (
        "For a test only: afterwards fit the type that the parts list names. Ignition "
        "off while you change relays."
    )
    yield Note(
        "The load starts at once when the relay pulls in. Keep hands, tools and loose "
        "clothing away from fans and belts.",
        signal="warning",
    )
    original, other = asked.original_suppression, asked.other_suppression
    if other.startswith("diode") and not original.startswith("diode"):
        yield "With a diode the relay lets go some milliseconds later."


RESULTS = (
    yes_or_no("allowed", "May stand in for a test").concludes(YES_IS_GOOD),
    text("reason", "Why"),
    yes_or_no("terminals_fit", "Terminals fit"),
    yes_or_no("contact_fits", "Contact fits"),
    yes_or_no("coil_fits", "Coil fits"),
    yes_or_no("suppression_fits", "Suppression fits"),
    result("contact_limit", "Its contact may carry there", AMPERES, 3),
    verdict("load_verdict", "Load on its contact", AMPERES),
    result("coil_current", "Its coil takes", AMPERES, 3),
    result("original_coil_current", "The original's coil takes", AMPERES, 3),
    result("coil_share", "Share of the original's coil current", PER_CENT, 3),
)

CALCULATOR = Calculator(
    **taking(Exchange, relay_exchange),
    title="Relay exchange for a test",
    summary="May this relay stand in for that one for a test: terminals, contact, coil and "
    "suppression, with the reason.",
    job="Electrical",
    words=phrases("swap relays, substitute relay, 87a, diode relay, resistor relay, socket"),
    results=RESULTS,
    meaning="Two relays that fit one socket are not always the same. Look at four things: the "
    "terminals and their places, what the contact carries in the heat, what the coil asks of its "
    "driver, and what quenches the coil's spike. A diode has a right way round.",
    leaves_out="How often a contact may switch, and the voltage of the spike that a driver bears, "
    "are not asked for. A relay that also holds electronics (timer, flasher, wiper) never stands "
    "in for a plain one.",
    sources=published(
        "DIN 72552 (terminals 30, 85, 86, 87, 87a)",
        "Data sheet of a 40 A mini relay: 60 A at 23 °C, 40 A at 85 °C, 17 A at 125 °C",
    )
    + practice("At most a quarter more coil current than the original"),
    hands_over=hand_over(
        "relay_coil", "Does its coil pull in when hot", "resistance=other_coil supply ambient"
    ),
)
