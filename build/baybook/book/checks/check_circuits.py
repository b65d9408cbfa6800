"""Codes of circuits: a wire, a connector or a driver can set them, not only the part."""

import re

from baybook.book.context import Context

_CIRCUIT = re.compile(
    r"circuit(?!.*(?:range/performance|slow response|no activity))"
    r"|(?<!flow) (?:low|high) input\b|sensor/switch (?:low|high)\b"
)
_WIRING = re.compile(r"\b(?:wires?|wiring|harness|circuit|signal|feed|leads?)\b")


def check_circuits(context: Context) -> None:
    """Warn of a circuit code behind which stand faults of one part alone, and that no wiring."""
    data = context.data
    for place, code in enumerate(data.codes):
        if not _CIRCUIT.search(context.source.code_title(code)):
            continue
        parts = {fault.part for fault in data.faults.values() if code in fault.sets}
        if len(parts) == 1 and parts <= set(data.parts):
            (part,) = parts
            name = data.parts[part].name
            if not _WIRING.search(name):
                context.report.warning(
                    ("codes", place),
                    f"expected wiring among the faults that set {code}, got faults of {name} alone",
                    "an open or shorted wire, a connector or a driver sets a circuit code too",
                )
