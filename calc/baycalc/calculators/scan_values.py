"""Raw bytes of a scan tool into figures and back, with the formula; results of service 06."""

from collections.abc import Iterator, Mapping
from typing import Any

from baycalc.forms.declare import Answer, Calculator, Refusal, Result, Value, refuse
from baycalc.forms.form import (
    Group,
    choice,
    form,
    from_memory,
    phrases,
    practice,
    published,
    quantity,
    result,
    taking,
    text,
    typed_text,
    verdict,
)
from baycalc.measurement.decision import Limit, judge
from baycalc.physics.obd import BytesError, data_bytes, write_bytes
from baycalc.physics.scaling import ITEMS, SECONDARY_AIR, TEST_SCALINGS, Item, ScalingError
from baycalc.quantities.kinds import (
    AIR_FLOW,
    NUMBER,
    PER_CENT,
    TEMPERATURE,
    VOLTAGE,
    VOLTS,
    Kind,
    kind,
)
from baycalc.text import sentence

_TEST = "test_result"
_TEST_EXAMPLE = "01 0A 0B B0 0B B0 0B B0"
_RICH, _LEAN = 0.6, 0.3

_KINDS: Mapping[str, Kind] = {
    "trim": PER_CENT,
    "temperature": TEMPERATURE,
    "share": PER_CENT,
    "engine_speed": kind("rotation", "rpm"),
    "vehicle_speed": kind("speed", "mph", "km/h"),
    "timing": kind("angle", "°"),
    "air_flow": AIR_FLOW,
    "pressure": kind("pressure", "inHg", "kPa", "mbar", "psi"),
    "vapour_pressure": kind("pressure", "inH2O", "Pa", "kPa"),
    "voltage": VOLTAGE,
    "lambda_value": NUMBER,
    "current": kind("current", "mA", "A"),
}
_RANGES = {
    "trim": ("Trim", "-101 % to 100 %"),
    "temperature": ("Temperature", "-41 °C to 6515 °C"),
    "share": ("Share", "-1 % to 101 %"),
    "engine_speed": ("Engine speed", "-1 rpm to 17000 rpm"),
    "vehicle_speed": ("Vehicle speed", "-1 km/h to 260 km/h"),
    "timing": ("Timing", "-65 ° to 65 °"),
    "air_flow": ("Air flow", "-1 g/s to 700 g/s"),
    "pressure": ("Pressure", "-1 kPa to 300 kPa"),
    "vapour_pressure": ("Vapor pressure", "-9 kPa to 9 kPa"),
    "voltage": ("Voltage", "-1 V to 70 V"),
    "lambda_value": ("Lambda", "0 to 2.1"),
    "current": ("Current", "-130 mA to 130 mA"),
}
_ITEMS = {name: f"{item.name} ({item.written_numbers()})" for name, item in ITEMS.items()} | {
    _TEST: "test result (service 06)"
}
_Figures = Mapping[str, float | None]


def _value(name: str) -> Any:
    label, span = _RANGES[name]
    items = [item for item, entry in ITEMS.items() if name in (part.id for part in entry.parts)]
    asked = quantity(f"{label} to turn into bytes", _KINDS[name], None, span)
    return asked.says("May stay empty.", f"item={'|'.join(items)}")


_VALUES: Any = Group(dict, {name: _value(name) for name in _RANGES}, "value_{}")


@form
class ScanEntry:
    """An item, its bytes, or its figures."""

    item: str = choice("Item", _ITEMS).says("In brackets its numbers in service 01, in hex.")
    raw_bytes: str = typed_text("Bytes in hex", "", 80).says(
        "The data bytes A, B ..., with or without the answer's head such as 41 06. For "
        "service 06: test id, unit-and-scaling id, value, least, greatest. Left empty, "
        "an example of the item is shown."
    )
    figures: _Figures = _VALUES


def scan_values(asked: ScanEntry) -> Answer:
    """Turn the bytes of an item into its figures, and figures into bytes.

    Raises
    ------
    Refusal
        When the bytes cannot be read, one of several figures is missing, or an item cannot show
        a figure.
    """
    text = asked.raw_bytes
    if asked.item == _TEST:
        return _test_result(text or _TEST_EXAMPLE, example=not text)
    item, figures = ITEMS[asked.item], asked.figures
    example = not text and all(figures[part.id] is None for part in item.parts)
    text = item.example if example else text
    if not text:
        _refuse_missing(item, figures)
    shown = text if example else _to_bytes(item, figures)
    values: dict[str, Value] = {"formula": item.formula, "bytes_shown": shown}
    if text:
        values |= _to_figures(asked.item, _data(text, item.example, 1, item.size, item.numbers))
    return Answer(
        values=values,
        notes=(*_example_note(item.example if example else ""), *_notes(asked.item)),
        steps={part.id: part.scaling.factor for part in item.parts},
    )


def _data(
    text: str, example: str, service: int, count: int, numbers: tuple[int, ...] = ()
) -> list[int]:
    try:
        return data_bytes(text, service, count, numbers)
    except BytesError as problem:
        told = f"{sentence(str(problem))} An example of this item: {example}."
        raise Refusal({"raw_bytes": told}) from problem


def _refuse_missing(item: Item, figures: _Figures) -> None:
    missing = [part for part in item.parts if figures[part.id] is None and part.unknown is None]
    told = "Type this figure too: the bytes hold all of them."
    refuse(**{f"value_{part.id}": told for part in missing})


def _example_note(example: str) -> Iterator[str]:
    if example:
        yield f"No bytes are typed: this shows an example, {example}."


def _to_figures(name: str, data: list[int]) -> dict[str, Value]:
    values: dict[str, Value] = {}
    for part in ITEMS[name].parts:
        found = data[part.start : part.start + part.size]
        if part.unknown is None or found != [part.unknown]:
            values[part.id] = part.scaling.read(found)
    if name == "secondary_air":
        states = [text for bit, text in SECONDARY_AIR.items() if data[0] & bit]
        values["status"] = "; ".join(states) or "no state is set"
    elif name == "narrow_band":
        values["status"] = _mixture(data[0] * 0.005)
    return values


def _mixture(voltage: float) -> str:
    if voltage > _RICH:
        return "rich"
    return "lean" if voltage < _LEAN else "between rich and lean"


def _to_bytes(item: Item, figures: _Figures) -> str | None:
    data = [0] * item.size
    known = False
    for part in item.parts:
        figure = figures[part.id]
        if figure is None and part.unknown is None:
            return None
        found = [part.unknown or 0]
        if figure is not None:
            known = True
            try:
                found = part.scaling.write(figure, part.size)
            except ScalingError as beyond:
                raise Refusal({f"value_{part.id}": _beyond(part.id, beyond)}) from beyond
        data[part.start : part.start + part.size] = found
    return write_bytes(data) if known else None


def _beyond(name: str, beyond: ScalingError) -> str:
    low, high = _KINDS[name].written(beyond.low), _KINDS[name].written(beyond.high)
    return f"This item shows {low} to {high} and no more."


def _test_result(text: str, example: bool) -> Answer:
    data = _data(text, _TEST_EXAMPLE, 6, count=8)
    scaling = TEST_SCALINGS.get(data[1])
    if scaling is None:
        told = f"The unit-and-scaling id {data[1]:02X} is not in the table here: look into SAE "
        raise Refusal({"raw_bytes": f"{told}J1979."})
    result, least, most = (scaling.scaling.read(data[at : at + 2]) for at in (2, 4, 6))
    refuse(
        raw_bytes=least > most
        and "The least value lies above the greatest one: check the order of the bytes and the id."
    )
    kind, step = Kind(scaling.kind, scaling.units), scaling.scaling.factor
    return Answer(
        values={
            "test_id": f"{data[0]:02X}",
            "test_scaling": f"{data[1]:02X}: {scaling.step} for each step",
            "test_value": kind.written(result, 4, step),
            "test_least": kind.written(least, 4, step),
            "test_greatest": kind.written(most, 4, step),
            "test_verdict": judge(result, 0.0, Limit(low=least, high=most), kind=kind),
        },
        notes=(
            *_example_note(_TEST_EXAMPLE if example else ""),
            "The control unit decided this itself, at the time of the test; its figures "
            "are taken without an uncertainty. What the test is, the maker's list says.",
        ),
        steps={"test_verdict": step},
    )


def _notes(item: str) -> Iterator[str]:
    if item == "trim":
        yield "Above zero fuel is added: the mixture would be lean without it."
    if item == "narrow_band":
        yield "Rich above 0.6 V, lean below 0.3 V: common practice."
    if item == "pressure":
        yield "Absolute pressure. With the engine off both show the air around."


def _result(name: str, label: str, digits: int = 4) -> Result:
    return result(name, label, Kind(_KINDS[name].name, _KINDS[name].pair), digits)


RESULTS = (
    _result("trim", "Fuel trim", 3),
    _result("temperature", "Temperature"),
    _result("share", "Share", 3),
    _result("engine_speed", "Engine speed"),
    _result("vehicle_speed", "Vehicle speed"),
    _result("timing", "Timing before top dead center", 3),
    _result("air_flow", "Air flow"),
    _result("pressure", "Absolute pressure"),
    _result("vapour_pressure", "Vapor pressure, gauge"),
    result("voltage", "Voltage", VOLTS),
    _result("lambda_value", "Lambda"),
    result("current", "Current", kind("current", "mA")),
    text("status", "Says"),
    text("formula", "Formula"),
    text("bytes_shown", "As bytes"),
    text("test_value", "Test result"),
    text("test_least", "Least allowed"),
    text("test_greatest", "Greatest allowed"),
    verdict("test_verdict", "Verdict", NUMBER, 4),
    text("test_id", "Test id"),
    text("test_scaling", "Unit-and-scaling id"),
)

CALCULATOR = Calculator(
    **taking(ScanEntry, scan_values),
    title="Scan tool bytes and values",
    summary="Raw bytes of service 01 into figures and figures into bytes, with the formula; test "
    "results of service 06 with their limits.",
    job="Scan tool",
    words=phrases("PID, hex, mode 6, mode 06, live data, fuel trim, lambda, raw data"),
    results=RESULTS,
    meaning="A scan tool asks for an item and gets one to four bytes, A, B, C, D. The formula of "
    "the standard makes a figure of them. It helps to know it when a tool shows only hex, when two "
    "tools disagree, or when a figure sits at the very end of what its bytes can show.",
    leaves_out="Items of a maker's own are not treated, nor are the newer items with support bits "
    "in front. Of service 06 only the unit-and-scaling ids are turned into figures; what a test "
    "means differs by maker.",
    sources=published(
        "SAE J1979 / ISO 15031-5: trims, coolant, engine speed, air flow, narrow-band, lambda"
    )
    + from_memory("SAE J1979: the other items, and the unit-and-scaling ids")
    + practice("Rich above 0.6 V, lean below 0.3 V"),
)
