"""The fields of a calculator's form, from its declaration, in the units of both systems."""

from collections.abc import Mapping
from typing import Any

from baycalc.forms.declare import Calculator, Choice, Flag, Input, Quantity, RecordInput, Text
from baycalc.forms.entry_units import entry
from baycalc.forms.groups import GROUPS, OPEN_GROUPS
from baycalc.quantities.units import label


def form_fields(calculator: Calculator, given: Mapping[str, str]) -> list[dict[str, Any]]:
    """Return every field as the template wants it, with what is given or else the default."""
    choices = {
        field.id: given.get(field.id, field.default)
        for field in calculator.inputs
        if isinstance(field, Choice)
    }
    return [_field(field, given, choices) for field in calculator.inputs]


def form_groups(calculator: Calculator, given: Mapping[str, str]) -> list[dict[str, Any]]:
    """Return the groups of a form in order, each with its fields; some stand open at first."""
    fields = {field["id"]: field for field in form_fields(calculator, given)}
    groups = [
        {
            "id": name,
            "heading": heading,
            "open": name in OPEN_GROUPS,
            "fields": [fields[field.id] for field in calculator.inputs if field.group == name],
        }
        for name, heading in GROUPS.items()
    ]
    return [group for group in groups if group["fields"]]


def entries_of(calculator: Calculator, given: Mapping[str, str]) -> dict[str, Any]:
    """Return what is given as a page's script enters it: a text, or an entry of both systems."""
    quantities = {field.id: field for field in calculator.inputs if isinstance(field, Quantity)}
    return {
        name: entry(quantities[name], text) if name in quantities else text
        for name, text in given.items()
    }


def _field(field: Input, given: Mapping[str, str], choices: Mapping[str, str]) -> dict[str, Any]:
    common = {
        "id": field.id,
        "label": field.label,
        "help": field.help,
        "shown": field.shown,
        "hidden": field.shown and choices[field.shown.choice] not in field.shown.values,
        "optional": False,
    }
    match field:
        case Quantity():
            return common | _quantity_field(field, given)
        case Choice():
            options = {"type": "choice", "options": field.options}
            return common | options | {"value": choices[field.id]}
        case Flag():
            checked = given.get(field.id, "true" if field.default else "") == "true"
            return common | {"type": "flag", "checked": checked}
        case RecordInput():
            return common | {"type": "record", "value": given.get(field.id, field.default)}
        case Text():
            value = given.get(field.id, field.default)
            text = {"type": "text", "value": value, "longest": field.longest}
            return common | text | {"optional": not field.default}


def _quantity_field(field: Quantity, given: Mapping[str, str]) -> dict[str, Any]:
    text, unit = given.get(field.id, field.default or ""), given.get(f"{field.id}.unit", "")
    written = entry(field, text, unit)
    return written | {
        "type": "quantity",
        "value": written["us"],
        "unit": written["unit_us"],
        "units": [{"symbol": each, "label": label(each)} for each in field.units],
        "optional": field.optional or field.default is None,
    }
