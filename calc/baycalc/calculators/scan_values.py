"""Raw bytes of a scan tool into figures and back, with the formula; results of service 06."""

from collections.abc import Mapping

from baycalc.forms.declare import (
    Answer,
    Calculator,
    Choice,
    Note,
    Option,
    Quantity,
    Refusal,
    Result,
    Shown,
    Source,
    Text,
    Value,
)
from baycalc.measurement.decision import Limit, judge
from baycalc.physics.obd import BytesError, data_bytes, write_bytes
from baycalc.physics.scaling import (
    ITEMS,
    SECONDARY_AIR,
    TEST_SCALINGS,
    Item,
    ScalingError,
    UnitAndScaling,
)
from baycalc.quantities.units import written

_TEST = "test_result"
_TEST_BYTES = 8
_EXAMPLES: Mapping[str, str] = {
    "trim": "8A",
    "temperature": "7B",
    "share": "80",
    "engine_speed": "0B B8",
    "vehicle_speed": "3C",
    "timing": "94",
    "air_flow": "01 2C",
    "pressure": "1E",
    "vapour_pressure": "FC 18",
    "narrow_band": "9B FF",
    "wide_band_voltage": "7F FF 40 00",
    "wide_band_current": "84 00 80 80",
    "catalyst_temperature": "11 94",
    "module_voltage": "37 0A",
    "commanded_lambda": "80 00",
    "secondary_air": "02",
    _TEST: "01 0A 0B B0 0B B0 0B B0",
}
"""Bytes of each item that are shown where nothing is typed."""

_RICH = 0.6
_LEAN = 0.3

_UNITS: Mapping[str, tuple[str, ...]] = {
    "trim": ("%",),
    "temperature": ("°F", "°C"),
    "share": ("%",),
    "engine_speed": ("rpm",),
    "vehicle_speed": ("mph", "km/h"),
    "timing": ("°",),
    "air_flow": ("lb/min", "g/s", "kg/h"),
    "pressure": ("inHg", "kPa", "mbar", "psi"),
    "vapour_pressure": ("inH2O", "Pa", "kPa"),
    "voltage": ("V", "mV"),
    "lambda_value": ("1",),
    "current": ("mA", "A"),
}


def scan_values(
    item: str,
    raw_bytes: str,
    value_trim: float | None,
    value_temperature: float | None,
    value_share: float | None,
    value_engine_speed: float | None,
    value_vehicle_speed: float | None,
    value_timing: float | None,
    value_air_flow: float | None,
    value_pressure: float | None,
    value_vapour_pressure: float | None,
    value_voltage: float | None,
    value_lambda_value: float | None,
    value_current: float | None,
) -> Answer:
    """Turn the bytes of an item into its figures, and figures into bytes.

    Parameters
    ----------
    item : str
        Item of service 01, or ``test_result`` for service 06 [-]
    raw_bytes : str
        Bytes in hex; where neither they nor figures are typed, an example is shown [-]
    value_trim : float
        Fuel trim to turn into bytes, or ``None`` [-]
    value_temperature : float
        Temperature to turn into bytes, or ``None`` [K]
    value_share : float
        Share to turn into bytes, or ``None`` [-]
    value_engine_speed : float
        Engine speed to turn into bytes, or ``None`` [1/s]
    value_vehicle_speed : float
        Vehicle speed to turn into bytes, or ``None`` [m/s]
    value_timing : float
        Ignition timing to turn into bytes, or ``None`` [rad]
    value_air_flow : float
        Air flow to turn into bytes, or ``None`` [kg/s]
    value_pressure : float
        Absolute pressure to turn into bytes, or ``None`` [Pa]
    value_vapour_pressure : float
        Vapour pressure to turn into bytes, or ``None`` [Pa]
    value_voltage : float
        Voltage to turn into bytes, or ``None`` [V]
    value_lambda_value : float
        Lambda to turn into bytes, or ``None`` [-]
    value_current : float
        Current to turn into bytes, or ``None`` [A]

    Returns
    -------
    Answer
        The figures in SI by name, ``formula``, ``status``, ``bytes_shown``; of service 06 the
        result with its limits.

    Raises
    ------
    Refusal
        When the bytes cannot be read, one of several figures is missing, or an item cannot show
        a figure.
    """
    if item == _TEST:
        return _test_result(raw_bytes or _EXAMPLES[item], example=not raw_bytes)
    typed = {
        "trim": value_trim,
        "temperature": value_temperature,
        "share": value_share,
        "engine_speed": value_engine_speed,
        "vehicle_speed": value_vehicle_speed,
        "timing": value_timing,
        "air_flow": value_air_flow,
        "pressure": value_pressure,
        "vapour_pressure": value_vapour_pressure,
        "voltage": value_voltage,
        "lambda_value": value_lambda_value,
        "current": value_current,
    }
    chosen = ITEMS[item]
    example = not raw_bytes and all(typed[part.id] is None for part in chosen.parts)
    text = _EXAMPLES[item] if example else raw_bytes
    if not text:
        _refuse_missing(chosen, typed)
    shown = text if example else _to_bytes(chosen, typed)
    values: dict[str, Value] = {"formula": chosen.formula, "bytes_shown": shown}
    if text:
        data = _data(text, item, 1, chosen.size, chosen.numbers)
        values |= _to_figures(item, chosen, data)
    return Answer(values=values, notes=(*_example_note(item, example), *_notes(item)))


def _data(
    text: str, item: str, service: int, count: int, numbers: tuple[int, ...] = ()
) -> list[int]:
    try:
        return data_bytes(text, service, count, numbers)
    except BytesError as problem:
        told = f"{problem}"
        example = f"An example of this item: {_EXAMPLES[item]}."
        raise Refusal({"raw_bytes": f"{told[0].upper()}{told[1:]}. {example}"}) from problem


def _refuse_missing(item: Item, typed: Mapping[str, float | None]) -> None:
    missing = [part for part in item.parts if typed[part.id] is None and part.unknown is None]
    if missing:
        told = "Type this figure too: the bytes hold all of them."
        raise Refusal({f"value_{part.id}": told for part in missing})


def _example_note(item: str, example: bool) -> tuple[Note, ...]:
    if not example:
        return ()
    return (Note(text=f"No bytes are typed: this shows an example, {_EXAMPLES[item]}."),)


def _to_figures(name: str, item: Item, data: list[int]) -> dict[str, Value]:
    values: dict[str, Value] = {}
    for part in item.parts:
        found = data[part.start : part.start + part.size]
        if part.unknown is None or found != [part.unknown]:
            values[part.id] = part.scaling.read(found)
    if name == "secondary_air":
        values["status"] = _secondary_air(data[0])
    elif name == "narrow_band":
        values["status"] = _mixture(data[0] * 0.005)
    return values


def _secondary_air(byte: int) -> str:
    states = [text for bit, text in SECONDARY_AIR.items() if byte & bit]
    return "; ".join(states) or "no state is set"


def _mixture(voltage: float) -> str:
    if voltage > _RICH:
        return "rich"
    return "lean" if voltage < _LEAN else "between rich and lean"


def _to_bytes(item: Item, typed: Mapping[str, float | None]) -> str | None:
    data = [0] * item.size
    known = False
    for part in item.parts:
        figure = typed[part.id]
        if figure is None and part.unknown is None:
            return None
        found = [part.unknown or 0]
        if figure is not None:
            known = True
            try:
                found = part.scaling.write(figure, part.size)
            except ScalingError as beyond:
                raise Refusal({f"value_{part.id}": _beyond(part.id, part.kind, beyond)}) from beyond
        data[part.start : part.start + part.size] = found
    return write_bytes(data) if known else None


def _beyond(name: str, kind: str, beyond: ScalingError) -> str:
    units = _UNITS[name][:2]
    return (
        f"This item shows {written(kind, beyond.low, *units)} to "
        f"{written(kind, beyond.high, *units)} and no more."
    )


def _test_result(text: str, example: bool) -> Answer:
    data = _data(text, _TEST, 6, _TEST_BYTES)
    scaling = TEST_SCALINGS.get(data[1])
    if scaling is None:
        raise Refusal(
            {
                "raw_bytes": f"The unit-and-scaling id {data[1]:02X} is not in the table here: "
                "look into SAE J1979."
            }
        )
    result, least, most = (scaling.scaling.read(data[at : at + 2]) for at in (2, 4, 6))
    if least > most:
        raise Refusal(
            {
                "raw_bytes": "The least value lies above the greatest one: check the order of the "
                "bytes and the id."
            }
        )
    verdict = judge(
        result, 0.0, Limit(low=least, high=most), kind=scaling.kind, units=scaling.units
    )
    return Answer(
        values={
            "test_id": f"{data[0]:02X}",
            "test_scaling": f"{data[1]:02X}: {scaling.step} for each step",
            "test_value": _figure(scaling, result),
            "test_least": _figure(scaling, least),
            "test_greatest": _figure(scaling, most),
            "test_verdict": verdict,
        },
        notes=(
            *_example_note(_TEST, example),
            Note(
                text="The control unit decided this itself, at the time of the test; its figures "
                "are taken without an uncertainty. What the test is, the maker's list says."
            ),
        ),
    )


def _figure(scaling: UnitAndScaling, value: float) -> str:
    return written(scaling.kind, value, *scaling.units, digits=4)


def _notes(item: str) -> tuple[Note, ...]:
    if item == "trim":
        return (Note(text="Above zero fuel is added: the mixture would be lean without it."),)
    if item == "narrow_band":
        return (Note(text="Rich above 0.6 V, lean below 0.3 V: common practice."),)
    if item == "pressure":
        return (Note(text="Absolute pressure. With the engine off both show the air around."),)
    return ()


def _items_with(name: str) -> tuple[str, ...]:
    return tuple(item for item, entry in ITEMS.items() if name in (part.id for part in entry.parts))


def _value(name: str, label: str, kind: str, low: str, high: str) -> Quantity:
    return Quantity(
        id=f"value_{name}",
        label=f"{label} to turn into bytes",
        kind=kind,
        units=_UNITS[name],
        default=None,
        low=low,
        high=high,
        help="May stay empty.",
        shown=Shown(choice="item", values=_items_with(name)),
    )


def _result(name: str, label: str, kind: str, digits: int = 4) -> Result:
    return Result(id=name, label=label, kind=kind, units=_UNITS[name][:2], digits=digits)


CALCULATOR = Calculator(
    id="scan_values",
    title="Scan tool bytes and values",
    summary="Raw bytes of service 01 into figures and figures into bytes, with the formula; test "
    "results of service 06 with their limits.",
    job="Scan tool",
    words=("PID", "hex", "mode 6", "mode 06", "live data", "fuel trim", "lambda", "raw data"),
    inputs=(
        Choice(
            id="item",
            label="Item",
            options=(
                *(
                    Option(value=name, label=f"{item.name} ({item.written_numbers()})")
                    for name, item in ITEMS.items()
                ),
                Option(value=_TEST, label="test result (service 06)"),
            ),
            default="trim",
            help="In brackets its numbers in service 01, in hex.",
        ),
        Text(
            id="raw_bytes",
            label="Bytes in hex",
            default="",
            help="The data bytes A, B ..., with or without the answer's head such as 41 06. For "
            "service 06: test id, unit-and-scaling id, value, least, greatest. Left empty, an "
            "example of the item is shown.",
            longest=80,
        ),
        _value("trim", "Trim", "ratio", "-101 %", "100 %"),
        _value("temperature", "Temperature", "temperature", "-41 °C", "6515 °C"),
        _value("share", "Share", "ratio", "-1 %", "101 %"),
        _value("engine_speed", "Engine speed", "rotation", "-1 rpm", "17000 rpm"),
        _value("vehicle_speed", "Vehicle speed", "speed", "-1 km/h", "260 km/h"),
        _value("timing", "Timing", "angle", "-65 °", "65 °"),
        _value("air_flow", "Air flow", "mass flow", "-1 g/s", "700 g/s"),
        _value("pressure", "Pressure", "pressure", "-1 kPa", "300 kPa"),
        _value("vapour_pressure", "Vapour pressure", "pressure", "-9 kPa", "9 kPa"),
        _value("voltage", "Voltage", "voltage", "-1 V", "70 V"),
        _value("lambda_value", "Lambda", "ratio", "0", "2.1"),
        _value("current", "Current", "current", "-130 mA", "130 mA"),
    ),
    results=(
        _result("trim", "Fuel trim", "ratio", 3),
        _result("temperature", "Temperature", "temperature"),
        _result("share", "Share", "ratio", 3),
        _result("engine_speed", "Engine speed", "rotation"),
        _result("vehicle_speed", "Vehicle speed", "speed"),
        _result("timing", "Timing before top dead centre", "angle", 3),
        _result("air_flow", "Air flow", "mass flow"),
        _result("pressure", "Absolute pressure", "pressure"),
        _result("vapour_pressure", "Vapour pressure, gauge", "pressure"),
        Result(id="voltage", label="Voltage", kind="voltage", units=("V",), digits=4),
        _result("lambda_value", "Lambda", "ratio"),
        Result(id="current", label="Current", kind="current", units=("mA",), digits=4),
        Result(id="status", label="Says", kind="text"),
        Result(id="formula", label="Formula", kind="text"),
        Result(id="bytes_shown", label="As bytes", kind="text"),
        Result(id="test_value", label="Test result", kind="text"),
        Result(id="test_least", label="Least allowed", kind="text"),
        Result(id="test_greatest", label="Greatest allowed", kind="text"),
        Result(id="test_verdict", label="Verdict", kind="verdict", units=("1",), digits=4),
        Result(id="test_id", label="Test id", kind="text"),
        Result(id="test_scaling", label="Unit-and-scaling id", kind="text"),
    ),
    compute=scan_values,
    meaning="A scan tool asks for an item and gets one to four bytes, A, B, C, D. The formula of "
    "the standard makes a figure of them. It helps to know it when a tool shows only hex, when two "
    "tools disagree, or when a figure sits at the very end of what its bytes can show.",
    leaves_out="Items of a maker's own are not treated, nor are the newer items with support bits "
    "in front. Of service 06 only the unit-and-scaling ids are turned into figures; what a test "
    "means differs by maker.",
    sources=(
        Source(
            text="SAE J1979 / ISO 15031-5: trims, coolant, engine speed, air flow, narrow-band, "
            "lambda"
        ),
        Source(text="SAE J1979: the other items, and the unit-and-scaling ids", standing="memory"),
        Source(text="Rich above 0.6 V, lean below 0.3 V", standing="practice"),
    ),
    examples=(
        {},
        {"item": "trim", "raw_bytes": "41 06 72"},
        {"item": "trim", "raw_bytes": "", "value_trim": "12.5 %"},
        {"item": "temperature", "raw_bytes": "7B", "value_temperature": "194 °F"},
        {"item": "share", "raw_bytes": "80", "value_share": "25 %"},
        {"item": "engine_speed", "raw_bytes": "0B B8", "value_engine_speed": "800 rpm"},
        {"item": "vehicle_speed", "raw_bytes": "3C"},
        {"item": "timing", "raw_bytes": "94"},
        {"item": "air_flow", "raw_bytes": "01 2C", "value_air_flow": "4 g/s"},
        {"item": "pressure", "raw_bytes": "1E", "value_pressure": "29.92 inHg"},
        {"item": "vapour_pressure", "raw_bytes": "FC 18"},
        {"item": "narrow_band", "raw_bytes": "9B FF", "value_voltage": "450 mV"},
        {"item": "narrow_band", "raw_bytes": "41 14 20 80"},
        {"item": "wide_band_voltage", "raw_bytes": "7F FF 40 00"},
        {
            "item": "wide_band_current",
            "raw_bytes": "84 00 80 80",
            "value_lambda_value": "1",
            "value_current": "0 mA",
        },
        {"item": "catalyst_temperature", "raw_bytes": "11 94"},
        {"item": "module_voltage", "raw_bytes": "37 0A"},
        {"item": "commanded_lambda", "raw_bytes": "80 00"},
        {"item": "secondary_air", "raw_bytes": "41 12 02"},
        {"item": "test_result", "raw_bytes": "46 01 01 0A 0B B0 0B B0 0B B0"},
        {"item": "test_result", "raw_bytes": "81 8B FF 38 FE 0C 01 F4"},
        {"item": "test_result", "raw_bytes": "05 24 00 07 00 00 00 05"},
    ),
)
