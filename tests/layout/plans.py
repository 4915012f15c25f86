"""Plans as text, and what the layout makes of them."""

from __future__ import annotations

from typing import NamedTuple

from railbond.layout.build import build
from railbond.layout.model import Fault, Layout
from railbond.trackwork import template_for
from trackplan.edit import apply
from trackplan.read import read
from trackplan.span import Source

POWER = "booster B1 15 V 5 A\ndistrict main from B1\nbus main -> P1\n"

SIDING = """\
turnout T1 left live-frog
segment west stop -> T1.points 90 cm
segment middle T1.through -> stop 2 m
segment siding T1.diverging -> stop 2 m
"""


class Told(NamedTuple):
    """A fault as a person sees it: its rule, the words it points at, what it says."""

    rule: str
    at: str
    message: str


def layout(text: str, missing: tuple[str, ...] = (), prefix: str = "") -> Layout:
    """The layout of a plan whose every line reads."""
    reading = read(Source("plan", text))
    assert not reading.broken, reading.broken
    return build(reading.statements, template_for, missing, prefix)


def sound(text: str) -> Layout:
    """The layout of a plan in which nothing is at fault."""
    plan = layout(text)
    assert plan.faults == []
    return plan


def faults(text: str, missing: tuple[str, ...] = ()) -> list[Told]:
    return [told(text, fault) for fault in layout(text, missing).faults]


def told(text: str, fault: Fault) -> Told:
    return Told(fault.rule, text[fault.at.start : fault.at.end], fault.message)


def mended(text: str, fault: Fault) -> str:
    """The text with a fault's edits made."""
    return apply(Source("plan", text), fault.edits)
