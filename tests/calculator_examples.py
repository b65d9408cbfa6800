"""What each calculator is tried with, by its id: its defaults first, then every way through it."""

import json
from pathlib import Path

EXAMPLES: dict[str, list[dict[str, str]]] = json.loads(
    Path(__file__).with_suffix(".json").read_text(encoding="utf-8")
)
