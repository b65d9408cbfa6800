"""Random inputs through the interface of the calculators: nothing may raise, nothing be no number.

`fuzz_calculators` takes any number of inputs; the suite tries a small share of them.
"""

import json
import random
from collections.abc import Iterator
from typing import Any

from baycalc import api
from baycalc.forms.declare import Choice, Flag, Input, Quantity
from baycalc.quantities import units

ODD = (
    "", " ", "0", "-0", "-1", "1e308", "-1e308", "1e-320", "1e400", "nan", "inf", "-∞", "½", "1/0",
    "1/3", "0x10", "1,5", "1.2.3", "１２",
    "AWG 0000", "AWG -7000", "6/0", "#4", "1:30", "abc", "__proto__",
    "5 furlong", "7 psia", "9" * 60, "\x00", "🚗", "true", "no",
    "41 0C FF FF", "00 07 E5 00", "FF" * 40,
)  # fmt: skip
UNITS = ("", "furlong", "__proto__", "°C", "AWG", "%", "kPa", "s")


def fuzz_calculators(count: int, seed: int) -> list[str]:
    """Return what went wrong for a number of random inputs: the request, and how."""
    dice = random.Random(seed)
    found = []
    for _ in range(count):
        request = dice.choice((_run, _run, _run, _judge))(dice)
        if problem := _problem(request):
            found.append(f"{problem}: {json.dumps(request)}")
    return found


def _problem(request: dict[str, Any]) -> str:
    try:
        answer = json.loads(api.call(json.dumps(request)), parse_constant=_no_number)
    except Exception as problem:
        return f"{type(problem).__name__} {problem}"
    told = [answer["error"]] if "error" in answer else list(answer.get("errors", {}).values())
    if any(not sentence or not sentence.endswith((".", ":")) for sentence in told):
        return f"no sentence {told}"
    return "" if told or answer.get("results") or "verdict" in answer else f"no answer {answer}"


def _no_number(name: str) -> None:
    raise ValueError(name)


def _run(dice: random.Random) -> dict[str, Any]:
    name = dice.choice(api.names())
    fields: dict[str, str] = {}
    for entry in api.describe(name).inputs:
        if dice.random() < 0.6:
            fields |= dict(_field(dice, entry))
    return {"method": "run", "name": name, "fields": fields}


def _field(dice: random.Random, entry: Input) -> Iterator[tuple[str, str]]:
    if dice.random() < 0.05:
        yield entry.id, dice.choice(ODD)
        return
    match entry:
        case Quantity():
            table = units.installed()
            low, high = (table.parse(entry.kind, text or "") for text in (entry.low, entry.high))
            near = table.parse(entry.kind, entry.default) if entry.default else low
            unit = dice.choice(entry.units)
            value = dice.choice((low, high, near, near * dice.uniform(0.3, 3)))
            if dice.random() < 0.5:
                value = low + (high - low) * dice.random() ** 4
            yield entry.id, f"{table.unit(entry.kind, unit).from_si(value):.7g}"
            yield f"{entry.id}.unit", dice.choice(UNITS) if dice.random() < 0.01 else unit
        case Choice():
            yield entry.id, dice.choice(entry.options).value
        case Flag():
            yield entry.id, dice.choice(("true", "false"))
        case _:
            bytes_typed = (f"{dice.randrange(256):02X}" for _ in range(dice.randrange(9)))
            yield entry.id, " ".join(bytes_typed)


def _judge(dice: random.Random) -> dict[str, Any]:
    def some(*values: Any) -> Any:
        return dice.choice(values)

    number = f"{dice.uniform(-5, 40):.4g}"
    return {
        "method": "judge",
        "kind": "pressure",
        "reading": some(number, number, dice.choice(ODD)),
        "unit": some("inHg", "kPa", "psi", dice.choice(UNITS)),
        "units": ["inHg", "kPa"],
        "low": some(None, 0.0, 6e4, 5e4),
        "high": some(None, 6e4, 9e4),
        "scales": some(True, False),
        "reference": some("vacuum", "gauge", "absolute", None),
        "gauge": some({}, {"span": 1e5, "grade": "B", "resolution": 1700.0}, {"of_reading": 0.01}),
        "own_gauge": some(None, {"span": number}, {"grade": some("A", "Z")}, {"resolution": "9 m"}),
        "altitude": some("", "5000 ft", number, dice.choice(ODD)),
    }
