"""The rules as a table and as lessons, and the cautions."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from textwrap import fill, indent, wrap

from railbond.rules.rule import Rule

GENERAL_CAUTIONS = (
    "Unplug the power supply and take the locomotives off the track before a meter set to ohms touches a "
    "rail: it would read through them, or be damaged.",
    "The mains side of a power supply, its plug, fuse and case, is work for a licensed electrician, to the "
    "code of your town. All that is said here is about the low-voltage side, and local code goes first.",
    "A short that does not trip a breaker heats wires, rails and trucks until they burn, and a wire can be "
    "hot before a breaker trips. Touch nothing, pull the plug, and look for the cause afterwards. Try a "
    "breaker only while somebody watches.",
    "A soldering iron burns skin and sets fire to what it lies on, and its fumes are not to be breathed: use "
    "a stand, open a window, wear glasses under a layout, and wash your hands after leaded solder.",
)


def table(rules: Iterable[Rule], width: int = 80) -> str:
    """One row a rule: its name, its level, what happens, and the defect."""
    rules = list(rules)
    left = max(len(rule.name) for rule in rules)
    heads = [f"{rule.name:<{left}}  {rule.level:<7}  {rule.happens:<9}  " for rule in rules]
    return "\n".join(
        fill(
            rule.summary,
            width,
            initial_indent=head,
            subsequent_indent=" " * len(head),
            break_on_hyphens=False,
        )
        for rule, head in zip(rules, heads, strict=True)
    )


def lesson(rule: Rule, width: int = 80) -> str:
    """All that a rule has to teach."""
    return "\n\n".join(_lesson(rule, width))


def _lesson(rule: Rule, width: int) -> Iterator[str]:
    yield fill(f"{rule.name}: {rule.summary} ({rule.level}, {rule.happens})", width, break_on_hyphens=False)
    yield _part("What happens on the railroad", rule.railroad, width)
    yield _part("How to find it", rule.meter, width)
    yield _part("How to mend it", rule.mend, width)
    if rule.caution:
        yield _part("Take care", rule.caution, width)
    yield f"A plan that fails\n{_plan(rule.fails)}"
    yield f"The same plan, mended\n{_plan(rule.passes)}"


def _part(head: str, text: str, width: int) -> str:
    return f"{head}\n{_paragraphs(text, width)}"


def _paragraphs(text: str, width: int) -> str:
    """The text filled, its paragraphs kept; they are parted by blank lines."""
    paragraphs = [" ".join(part.split()) for part in text.strip().split("\n\n")]
    return "\n\n".join(indent(fill(part, width - 2, break_on_hyphens=False), "  ") for part in paragraphs)


def _plan(text: str) -> str:
    return indent(text.strip("\n"), "    ")


def all_cautions(rules: Iterable[Rule], width: int = 80) -> str:
    """The cautions for everything, then those of single rules."""
    single = [f"{rule.name}: {rule.caution}" for rule in rules if rule.caution]
    parts = [
        wrap(" ".join(text.split()), width, break_on_hyphens=False) for text in (*GENERAL_CAUTIONS, *single)
    ]
    return "\n\n".join("\n".join(part) for part in parts)
