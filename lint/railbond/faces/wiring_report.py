"""What `wire` tells: how much was written and what it costs, each line with its reason, and what stands in the way."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TextIO

from railbond import care
from railbond.design.draft import WrittenLine
from railbond.design.wire import UNCLEAR, WiredPlan
from railbond.doorway import enter
from railbond.findings import Finding
from railbond.saying import printable
from trackplan.span import Source

from .places import counted
from .text import TextStyle, cautions, look_for, told, warned

OpenText = Callable[[str], str]


def report(path: str, plan: WiredPlan, open_text: OpenText, why: bool, to: TextIO) -> str:
    """The report on one plan, without a newline at its end."""
    look = look_for(to)
    paragraphs = [_sum(path, plan)]
    if why and plan.lines:
        paragraphs.append("\n".join(_reasons(plan.lines)))
    if plan.left:
        paragraphs += _obstacles(path, plan, open_text, look)
    else:
        paragraphs += warned(care.told(care.of_lines(line.text for line in plan.lines)), look)
    return "\n\n".join(paragraphs) + "\n"


def _sum(path: str, plan: WiredPlan) -> str:
    if not plan.lines:
        return (
            f"{printable(path)}: nothing is missing." if not plan.left else f"{printable(path)}: nothing was written."
        )
    bound = plan.bound
    rest = (
        ": drops, cuts and reversers are as few as can be, and the rest is bus runs"
        if bound.is_exact
        else ", and the best may lie anywhere between"
    )
    return (
        f"{printable(path)}: {counted(len(plan.lines), 'line')} written, at a cost of {plan.cost:.4g} (a wire soldered "
        f"to a rail is 1). Nothing that does the same costs less than {bound.least:.4g}{rest}."
    )


def _reasons(lines: list[WrittenLine]) -> list[str]:
    return [text for line in lines for text in (f"  {' '.join(line.text.split())}", f"      {line.why}")]


def _in_the_way(sources: Mapping[str, Source], left: list[Finding]) -> list[str]:
    """The lines of the plan that the first mend of each finding would change."""
    edits = [edit for one in left for edit in (one.fixes[0].edits if one.fixes else ()) if not edit.line]
    places = dict.fromkeys((edit.at.path, sources[edit.at.path].line_of(edit.at.start)) for edit in edits)
    return [
        f"  {printable(path)}:{number + 1}  {' '.join(printable(sources[path].line_text(number)).split())}"
        for path, number in places
    ]


def _obstacles(path: str, plan: WiredPlan, open_text: OpenText, look: TextStyle) -> list[str]:
    """What is left, each with the line of the plan that it rests on, and what each way out would change there."""

    def opened(other: str) -> str:
        return plan.text if other == path else open_text(other)

    inspection = enter(path, opened).proven
    left = [one for one in inspection.findings if one.level != "note"]
    head = "What is left cannot be cured by more lines: a line that the plan has stands in the way."
    if lines := _in_the_way(inspection.sources, left):
        head = "\n".join(["What is left cannot be cured by more lines. In its way stands:", *lines])
    if any(one.rule in UNCLEAR for one in plan.left):
        left = [one for one in left if one.rule in UNCLEAR] or left
        head = "Before anything is written, it must be clear what the plan says:"
    return [head, *(told(one, inspection.sources, look) for one in left), *cautions(left, look)]
