"""What `wire` tells: how much was written and what it costs, each line with its reason, and what stands in the way."""

from __future__ import annotations

from collections.abc import Callable
from typing import TextIO

from railbond import care
from railbond.design.draft import WrittenLine
from railbond.design.wire import WiredPlan
from railbond.doorway import enter
from railbond.saying import printable

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
    exact = "" if bound.is_exact else ", but for what rings of track and shares of boosters may save"
    return (
        f"{printable(path)}: {counted(len(plan.lines), 'line')} written. They cost {plan.cost:.4g}; as little as "
        f"{bound.least:.4g} is needed whatever is done{exact}."
    )


def _reasons(lines: list[WrittenLine]) -> list[str]:
    return [text for line in lines for text in (f"  {' '.join(line.text.split())}", f"      {line.why}")]


def _obstacles(path: str, plan: WiredPlan, open_text: OpenText, look: TextStyle) -> list[str]:
    """What is left, each with the line of the plan that it rests on, and what each way out would change there."""

    def opened(other: str) -> str:
        return plan.text if other == path else open_text(other)

    inspection = enter(path, opened).proven
    left = [one for one in inspection.findings if one.level != "note"]
    head = "What is left cannot be cured by more lines: a line that the plan has stands in the way."
    return [head, *(told(one, inspection.sources, look) for one in left), *cautions(left, look)]
