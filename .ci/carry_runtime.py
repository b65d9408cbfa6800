"""Lets the wheel carry the browser's Python where `make wheel` has made it ready."""

from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface


class CarryRuntime(BuildHookInterface):
    """Takes in the ready edition; an editable install needs none."""

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        ready = Path(self.root) / ".cache" / "ready"
        if version == "standard" and ready.is_dir():
            build_data["force_include"][str(ready)] = "baybook/runtime/ready"
