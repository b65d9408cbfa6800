"""May one relay stand in for another one for a test, and if not, why not."""

from collections.abc import Mapping
from dataclasses import dataclass

from baycalc.forms.declare import (
    Answer,
    Calculator,
    Choice,
    Flag,
    HandOver,
    Note,
    Option,
    Quantity,
    Refusal,
    Result,
    Shown,
    Source,
    Value,
)
from baycalc.forms.shared_inputs import meter_inputs
from baycalc.measurement.decision import FAIL, PASS, Gauge, Limit, Verdict, judge
from baycalc.physics.relays import contact_limit
from baycalc.quantities.units import written

_MORE_COIL_CURRENT = 1.25
_OTHER_VOLTAGE = 3.0

_TERMINALS = (
    Option(value="make", label="30, 85, 86, 87"),
    Option(value="changeover", label="30, 85, 86, 87, 87a"),
    Option(value="double make", label="30, 85, 86, 87, 87b (or 87 twice)"),
)
_SUPPRESSIONS = (
    Option(value="none", label="none"),
    Option(value="resistor", label="resistor"),
    Option(value="diode to 86", label="diode, its bar at 86"),
    Option(value="diode to 85", label="diode, its bar at 85"),
)


@dataclass(frozen=True, slots=True)
class _Check:
    """One thing that must fit: whether it does, and the sentence that says so."""

    fits: bool
    says: str


def relay_exchange(
    same_places: bool,
    original_terminals: str,
    other_terminals: str,
    rest_contact_used: bool,
    load: float,
    inrush: float,
    cool_limit: float,
    cool: float,
    hot_limit: float,
    hot: float,
    making_limit: float | None,
    ambient: float,
    supply: float,
    original_coil: float,
    other_coil: float,
    driver_limit: float | None,
    original_suppression: str,
    other_suppression: str,
    positive_terminal: str,
    meter_error: float,
    meter_step: float,
) -> Answer:
    """Hold a relay that should stand in for a test against the one it replaces.

    Parameters
    ----------
    same_places : bool
        The drawings on both housings show the same terminals at the same places [-]
    original_terminals : str
        ``make``, ``changeover`` or ``double make`` [-]
    other_terminals : str
        The same of the relay that should stand in [-]
    rest_contact_used : bool
        The circuit uses 87a [-]
    load : float
        Steady current through the contact [A]
    inrush : float
        Peak of the current when the load starts; 0 where there is none [A]
    cool_limit : float
        Contact current of the stand-in's data sheet at the lower temperature [A]
    cool : float
        That temperature [K]
    hot_limit : float
        Contact current of its data sheet at the higher temperature [A]
    hot : float
        That temperature [K]
    making_limit : float
        Greatest current that its contact may switch on, or ``None`` [A]
    ambient : float
        Temperature of the air at the relay [K]
    supply : float
        Voltage at the coil [V]
    original_coil : float
        Coil resistance of the original [ohm]
    other_coil : float
        Coil resistance of the relay that should stand in [ohm]
    driver_limit : float
        Greatest current of the driver of the coil, or ``None`` [A]
    original_suppression : str
        ``none``, ``resistor``, ``diode to 86`` or ``diode to 85`` [-]
    other_suppression : str
        The same, or ``unknown``, of the relay that should stand in [-]
    positive_terminal : str
        Terminal of the coil that the socket feeds with plus, ``86`` or ``85`` [-]
    meter_error : float
        Greatest error of the current meter as a share of the reading [-]
    meter_step : float
        Smallest step of the current meter [A]

    Returns
    -------
    Answer
        ``allowed``, ``reason``, ``load_verdict``, currents in A.

    Raises
    ------
    Refusal
        When the two points of the data sheet are not in order.
    """
    _refuse_impossible(cool, hot, cool_limit, hot_limit, load, inrush)
    limit = contact_limit(cool_limit, cool, hot_limit, hot, ambient)
    verdict = judge(
        load,
        Gauge(of_reading=meter_error, resolution=meter_step).uncertainty(load),
        Limit(high=limit),
        kind="current",
        advice="measure the load with a better meter, or try a relay with a larger contact",
    )
    coil, original = supply / other_coil, supply / original_coil
    checks = {
        "terminals_fit": _terminals(
            same_places, original_terminals, other_terminals, rest_contact_used
        ),
        "contact_fits": _contact(verdict, limit, inrush, making_limit),
        "coil_fits": _coil(coil, original, driver_limit),
        "suppression_fits": _suppression(
            original_suppression, other_suppression, positive_terminal
        ),
    }
    values: dict[str, Value] = {
        "allowed": all(check.fits for check in checks.values()),
        "reason": _reason(checks),
        "contact_limit": limit,
        "load_verdict": verdict,
        "coil_current": coil,
        "original_coil_current": original,
        "coil_share": coil / original,
    }
    values |= {name: check.fits for name, check in checks.items()}
    return Answer(values=values, notes=_notes(original_suppression, other_suppression))


def _refuse_impossible(
    cool: float, hot: float, cool_limit: float, hot_limit: float, load: float, inrush: float
) -> None:
    problems = {}
    if hot <= cool:
        problems["hot"] = "Must be warmer than the first point of the data sheet."
    if hot_limit > cool_limit:
        problems["hot_limit"] = "A contact cannot carry more when it is hotter."
    if 0 < inrush < load:
        problems["inrush"] = (
            "The inrush is the peak when the load starts and cannot be less than the steady load; "
            "type 0 where there is none."
        )
    if problems:
        raise Refusal(problems)


def _terminals(same_places: bool, original: str, other: str, rest_contact_used: bool) -> _Check:
    if not same_places:
        return _Check(
            False,
            "The terminals are not at the same places: with 30 and 86 changed over, the coil's "
            "supply meets the load's.",
        )
    if original == other:
        return _Check(True, "The terminals are the same.")
    if original == "changeover" and rest_contact_used:
        return _Check(False, "The circuit uses 87a, and the other relay has none.")
    if original == "double make":
        return _Check(False, "The second output would be dead, or live while the relay is at rest.")
    if other == "double make" and original == "changeover":
        return _Check(False, "Its second output would feed the place of 87a.")
    return _Check(
        True, "The terminals that the circuit uses are there. The fifth place must stay empty."
    )


def _contact(verdict: Verdict, limit: float, inrush: float, making_limit: float | None) -> _Check:
    carries = f"At this temperature its contact may carry {written('current', limit, 'A')}"
    if making_limit is not None and inrush > making_limit:
        return _Check(
            False,
            f"The inrush of {written('current', inrush, 'A')} may weld a contact that switches "
            f"{written('current', making_limit, 'A')} on.",
        )
    if verdict.outcome == FAIL:
        return _Check(False, f"{carries}, less than the load.")
    if verdict.outcome != PASS:
        return _Check(False, f"{carries}, too close to the load to call.")
    return _Check(True, f"{carries}, enough for the load.")


def _coil(coil: float, original: float, driver_limit: float | None) -> _Check:
    takes = f"Its coil takes {written('current', coil, 'A')}"
    if driver_limit is not None and coil > driver_limit:
        return _Check(False, f"{takes}, more than the driver may give.")
    if driver_limit is None and coil > _MORE_COIL_CURRENT * original:
        return _Check(
            False,
            f"{takes}, much more than the original's {written('current', original, 'A')}: its "
            "driver may not bear that.",
        )
    if coil * _OTHER_VOLTAGE < original:
        return _Check(
            False, f"{takes}, so little that it is perhaps a relay for another supply voltage."
        )
    if driver_limit is None:
        return _Check(True, f"{takes}, not much more than the original's.")
    return _Check(True, f"{takes}, within what the driver may give.")


def _suppression(original: str, other: str, positive: str) -> _Check:
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
    if original != "none" and other == "none":
        return _Check(
            False,
            "It has nothing to quench the spike of its coil, and the original has: the spike can "
            "kill the driver.",
        )
    return _Check(True, "The spike of its coil is dealt with as well as before.")


def _reason(checks: Mapping[str, _Check]) -> str:
    wrong = [check.says for check in checks.values() if not check.fits]
    return " ".join(wrong or [check.says for check in checks.values()])


def _notes(original: str, other: str) -> tuple[Note, ...]:
    told = [
        Note(
            text="For a test only: afterwards fit the type that the parts list names. Ignition "
            "off while you change relays."
        ),
        Note(
            text="The load starts at once when the relay pulls in. Keep hands, tools and loose "
            "clothing away from fans and belts.",
            signal="warning",
        ),
    ]
    if other.startswith("diode") and not original.startswith("diode"):
        told.append(Note(text="With a diode the relay lets go some milliseconds later."))
    return tuple(told)


def _current(
    id: str, label: str, default: str | None, help: str = "", low: str = "0.01 A"
) -> Quantity:
    return Quantity(
        id=id,
        label=label,
        kind="current",
        units=("A", "mA"),
        default=default,
        low=low,
        high="1000 A",
        help=help,
    )


def _degrees(id: str, label: str, default: str, help: str = "") -> Quantity:
    return Quantity(
        id=id,
        label=label,
        kind="temperature",
        units=("°F", "°C"),
        default=default,
        low="-50 °C",
        high="180 °C",
        help=help,
    )


def _coil_input(id: str, label: str, default: str) -> Quantity:
    return Quantity(
        id=id,
        label=label,
        kind="resistance",
        units=("ohm", "kohm"),
        default=default,
        low="1 ohm",
        high="100 kohm",
        help="Between 85 and 86, both relays at the same temperature.",
    )


CALCULATOR = Calculator(
    id="relay_exchange",
    title="Relay exchange for a test",
    summary="May this relay stand in for that one for a test: terminals, contact, coil and "
    "suppression, with the reason.",
    job="Electrical",
    words=("swap relays", "substitute relay", "87a", "diode relay", "resistor relay", "socket"),
    inputs=(
        Flag(
            id="same_places",
            label="Same terminals at the same places",
            default=True,
            help="Compare the drawings on the housings: in one layout 30 and 86 are changed over.",
        ),
        Choice(
            id="original_terminals",
            label="Terminals of the original",
            options=_TERMINALS,
            default="make",
        ),
        Choice(
            id="other_terminals",
            label="Terminals of the other relay",
            options=_TERMINALS,
            default="make",
        ),
        Flag(
            id="rest_contact_used",
            label="The circuit uses 87a",
            shown=Shown(choice="original_terminals", values=("changeover",)),
        ),
        _current("load", "Steady load", "18 A"),
        _current("inrush", "Inrush, peak", "60 A", "0 where there is none.", low="0 A"),
        _current(
            "cool_limit", "Contact may carry, cool", "60 A", "Data sheet; 60 A is an example."
        ),
        _degrees("cool", "Cool is an air temperature of", "23 °C"),
        _current(
            "hot_limit",
            "Contact may carry, hot",
            "40 A",
            "Data sheet; 40 A is an example.",
            low="0 A",
        ),
        _degrees("hot", "Hot is an air temperature of", "85 °C"),
        _current("making_limit", "Contact may switch on", None, "Data sheet; may stay empty."),
        _degrees("ambient", "Temperature at the relay", "85 °C"),
        Quantity(
            id="supply",
            label="Voltage at the coil",
            kind="voltage",
            units=("V",),
            default="13.5 V",
            low="4 V",
            high="60 V",
        ),
        _coil_input("original_coil", "Coil of the original", "88 ohm"),
        _coil_input("other_coil", "Coil of the other relay", "92 ohm"),
        _current("driver_limit", "Driver gives at most", None, "May stay empty."),
        Choice(
            id="original_suppression",
            label="Suppression in the original",
            options=_SUPPRESSIONS,
            default="resistor",
            help="Drawn on the housing. With a diode, measure both ways round.",
        ),
        Choice(
            id="other_suppression",
            label="Suppression in the other relay",
            options=(*_SUPPRESSIONS, Option(value="unknown", label="not known")),
            default="resistor",
        ),
        Choice(
            id="positive_terminal",
            label="Plus of the coil comes at",
            options=(Option(value="86", label="86"), Option(value="85", label="85")),
            default="86",
            help="Measure at the empty socket with the relay called for.",
        ),
        *meter_inputs("current meter", "current", ("A",), "2 %", "0.1 A"),
    ),
    results=(
        Result(id="allowed", label="May stand in for a test", kind="flag"),
        Result(id="reason", label="Why", kind="text"),
        Result(id="terminals_fit", label="Terminals fit", kind="flag"),
        Result(id="contact_fits", label="Contact fits", kind="flag"),
        Result(id="coil_fits", label="Coil fits", kind="flag"),
        Result(id="suppression_fits", label="Suppression fits", kind="flag"),
        Result(
            id="contact_limit",
            label="Its contact may carry there",
            kind="current",
            units=("A",),
            digits=3,
        ),
        Result(
            id="load_verdict", label="Load on its contact", kind="verdict", units=("A",), digits=3
        ),
        Result(id="coil_current", label="Its coil takes", kind="current", units=("A",), digits=3),
        Result(
            id="original_coil_current",
            label="The original's coil takes",
            kind="current",
            units=("A",),
            digits=3,
        ),
        Result(
            id="coil_share",
            label="Share of the original's coil current",
            kind="ratio",
            units=("%",),
            digits=3,
        ),
    ),
    compute=relay_exchange,
    meaning="Two relays that fit one socket are not always the same. Look at four things: the "
    "terminals and their places, what the contact carries in the heat, what the coil asks of its "
    "driver, and what quenches the coil's spike. A diode has a right way round.",
    leaves_out="How often a contact may switch, and the voltage of the spike that a driver bears, "
    "are not asked for. A relay that also holds electronics (timer, flasher, wiper) never stands "
    "in for a plain one.",
    sources=(
        Source(text="DIN 72552 (terminals 30, 85, 86, 87, 87a)"),
        Source(
            text="Data sheet of a 40 A mini relay: 60 A at 23 °C, 40 A at 85 °C, 17 A at 125 °C"
        ),
        Source(text="At most a quarter more coil current than the original", standing="practice"),
    ),
    hands_over=(
        HandOver(
            to="relay_coil",
            label="Does its coil pull in when hot",
            carries={"resistance": "other_coil", "supply": "supply", "ambient": "ambient"},
        ),
    ),
    examples=(
        {},
        {"same_places": "false"},
        {"original_terminals": "changeover", "rest_contact_used": "true"},
        {"other_terminals": "changeover"},
        {"original_terminals": "double make", "other_terminals": "changeover"},
        {"other_suppression": "diode to 86"},
        {"other_suppression": "diode to 85"},
        {
            "other_suppression": "diode to 85",
            "positive_terminal": "85",
            "original_suppression": "diode to 85",
        },
        {"other_suppression": "none"},
        {"original_suppression": "none", "other_suppression": "none"},
        {"other_suppression": "unknown"},
        {"ambient": "257 °F", "load": "20 A"},
        {"load": "40 A", "ambient": "85 °C"},
        {"other_coil": "50 ohm"},
        {"other_coil": "50 ohm", "driver_limit": "500 mA"},
        {"other_coil": "330 ohm"},
        {"inrush": "140 A", "making_limit": "120 A"},
    ),
)
