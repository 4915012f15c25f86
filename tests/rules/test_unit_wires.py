"""An automatic frog unit is offered on the nearest wire of the track around it, and never on a name that is none."""

from __future__ import annotations

import re

from railbond.findings import Finding
from railbond.inspection import inspect
from trackplan.gather import gather

TURNOUT = """\
segment  {0}a  {1} -> {0}T.points        60 cm
turnout  {0}T  left  number 6  isolated-frog
bond     {0}T  closure rails to stock rails
segment  {0}b  {0}T.through -> {2}       60 cm
segment  {0}c  {0}T.diverging -> stop    60 cm
frog     {0}T  switched from stock rails
feeder   {3} -> {0}a
feeder   {3} -> {0}b
feeder   {3} -> {0}c
"""
TWO = (
    "booster  B1  15 V  5 A\nbooster  B2  15 V  5 A\ndistrict west  from B1\ndistrict east  from B2\n"
    "bus      west -> PW  2 m  14 AWG\nbus      east -> PE  2 m  14 AWG\n"
    + TURNOUT.format("w", "stop", "K", "PW")
    + TURNOUT.format("e", "K", "stop", "PE")
    + "gap      K  both rails\n"
)
MODULE = "endplate W  left red\nendplate E  left black\n{}" + TURNOUT.format("", "W", "E", "{}")
DRY = "endplate W  left red\nendplate E  left black\n" + "\n".join(
    line for line in TURNOUT.format("", "W", "E", "P").splitlines() if not line.startswith(("feeder", "frog"))
)


def told(text: str, rule: str) -> list[Finding]:
    return [one for one in inspect(gather("plan", lambda _: text)).findings if one.rule == rule]


def wires(findings: list[Finding]) -> list[str]:
    """The wires of all units that are offered."""
    edits = (edit.text for one in findings for fix in one.fixes for edit in fix.edits)
    return [found[1] for text in edits if (found := re.search(r"automatic (\S+)", text))]


def test_each_unit_hangs_on_the_wire_of_its_own_track() -> None:
    assert sorted(wires(told(TWO, "set-against"))) == ["PE", "PW"]


def test_a_module_has_no_main_and_none_is_offered() -> None:
    module = MODULE.format("bus      plug -> P1  1 m  14 AWG\n", "P1", "P1", "P1").replace("left black", "left red", 1)
    assert wires(told(module, "set-against")) == ["P1"]


def test_an_unfed_frog_is_offered_a_unit_on_its_own_wire() -> None:
    bare = TWO.replace("frog     eT  switched from stock rails\n", "")
    bare = bare.replace(
        "turnout  eT  left  number 6  isolated-frog", "turnout  eT  left  number 6  live-frog\ncut eT around frog"
    )
    assert wires(told(bare, "unfed-frog")) == ["PE"]


def test_where_there_is_no_wire_no_unit_is_offered() -> None:
    findings = inspect(gather("plan", lambda _: DRY)).findings
    assert findings and wires(findings) == []
