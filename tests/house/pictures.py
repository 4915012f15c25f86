"""The pictures of README, drawn of the plan that it shows. `python tests/house/pictures.py` draws them anew."""

from __future__ import annotations

import sys
from pathlib import Path

if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from house.readme import README, TOP, plan
from railbond.circuit.facts import Facts
from railbond.faces.drawing.picture import draw
from railbond.inspection import examine
from railbond.rules import all_rules
from trackplan.read import read
from trackplan.span import Source

FOLDER = TOP / "example_plans" / "pictures"
SETTINGS = {"mill_siding": None, "mill_siding_short": {"T1": "through"}}
"""Each picture's name, and the setting of the points in it; None is however they stand."""


def pictures() -> dict[str, str]:
    """Every picture by the name of its file."""
    source = Source("mill.trackplan", plan(README.read_text(encoding="utf-8")))
    reading = read(source)
    facts = Facts(reading.statements, {source.path: source}, reading.broken)
    findings = examine(Facts(reading.statements, {source.path: source}, reading.broken), all_rules())
    told = [one for one in findings if one.level == "error"]
    return {f"{name}.svg": draw(facts, told if setting else (), setting) for name, setting in SETTINGS.items()}


if __name__ == "__main__":
    FOLDER.mkdir(exist_ok=True)
    for name, picture in pictures().items():
        (FOLDER / name).write_text(picture, encoding="utf-8")
