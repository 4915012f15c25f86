"""Lines added in the head are read anew each time; the layout is told from the one that has them all the same."""

from __future__ import annotations

from railbond.circuit.facts import Facts
from railbond.doorway import enter
from railbond.layout.build import build
from railbond.layout.difference import rewired
from railbond.layout.model import Layout
from railbond.trackwork import expand, template_for
from trackplan.edit import Edit, add_line, replace
from trackplan.span import Span

PLAN = "plan.trackplan"
TEXT = """\
booster  B1    15 V  5 A
district main  from B1
segment  west  stop -> J  1.5 m
segment  mid   J -> K  1.5 m
segment  east  K -> stop  1.5 m
feeder   main -> west
feeder   main -> east
"""
END = len(TEXT)


def line(text: str) -> Edit:
    return add_line(Span(PLAN, END, END), text)


def told(before: Facts, after: Facts) -> Layout | None:
    return rewired(before.layout, before.statements, after.statements)


def anew(after: Facts) -> Layout:
    return build(after.statements, template_for, expand=expand)


def same(one: Layout, other: Layout) -> bool:
    return one._replace(desk=None) == other._replace(desk=None)


def test_a_wire_is_turned_beside_lines_that_were_added() -> None:
    first = enter(PLAN, {PLAN: TEXT}.__getitem__).facts.revised([line("gap J  both rails")])
    both = first.revised([line("gap K  left rail")])
    place = TEXT.index("main -> east") + len("main -> east")
    crossed = both.revised([replace(Span(PLAN, place, place), "  crossed")])
    for before, after in ((first, both), (both, crossed)):
        layout = told(before, after)
        assert layout and same(layout, anew(after)) and same(after.layout, layout)
    assert crossed.graph == Facts(crossed.statements, crossed.sources).graph


def test_another_line_in_the_place_of_one_that_was_added_is_laid_out_anew() -> None:
    plan = enter(PLAN, {PLAN: TEXT}.__getitem__).facts
    one, other = (plan.revised([line(f"gap J  {rail} rail")]) for rail in ("left", "right"))
    assert told(one, one.revised([])) is not None and told(one, other) is None
