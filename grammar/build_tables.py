"""What hatchling runs before it builds the package, or installs it for editing: Lark makes the parse tables."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface


class Tables(BuildHookInterface):
    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        sys.path.insert(0, str(Path(self.root) / "grammar"))
        from trackplan.generate import make

        make()
