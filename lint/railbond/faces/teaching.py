"""The rules as a table and as lessons, and the cautions."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from textwrap import indent

from railbond.care import CAUTIONS
from railbond.rules.rule import Rule

from .folding import paragraph

INDENT = " " * 4
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
    """Two lines a rule: its name, its level and what happens, and below them the defect."""
    rules = list(rules)
    left = max(len(rule.name) for rule in rules)
    return "\n".join(
        f"{rule.name:<{left}}  {rule.level:<7}  {rule.happens}\n{_filled(rule.summary, width, INDENT)}"
        for rule in rules
    )


def lesson(rule: Rule, width: int = 80) -> str:
    """All that a rule has to teach."""
    return "\n\n".join(_lesson(rule, width))


def _lesson(rule: Rule, width: int) -> Iterator[str]:
    yield _filled(f"{rule.name}: {rule.summary} ({rule.level}, {rule.happens})", width)
    yield _part("What happens on the railroad", rule.railroad, width)
    yield _part("How to find it", rule.test, width)
    yield _part("How to mend it", rule.mend, width)
    if rule.cautions:
        yield _part("Take care", "\n\n".join(rule.cautions), width)
    if rule.fails:
        yield f"A plan that fails\n{_plan(rule.fails)}"
        yield f"The same plan, mended\n{_plan(rule.passes)}"


def trackwork_lesson(name: str, text: str, forms: Mapping[str, str], width: int = 80) -> str:
    """What a kind of trackwork is and how a plan says it. Drawings and examples (indented) stay as they are."""
    parts = [part if part.startswith(" ") else _listed(part, width) for part in text.strip("\n").split("\n\n")]
    if forms:
        lines = "\n".join(f"{INDENT}{line}\n{INDENT}    --construction {form}" for form, line in forms.items())
        parts.append(f"In a plan, and what to ask for to see all its rails\n{lines}")
    return "\n\n".join([name, *parts])


def _listed(text: str, width: int) -> str:
    """A paragraph, or a list of such, filled."""
    items = text.split("\n- ")
    return "\n".join(_filled(item if place == 0 else f"- {item}", width) for place, item in enumerate(items))


def _part(head: str, text: str, width: int) -> str:
    return f"{head}\n{_paragraphs(text, width)}"


def _paragraphs(text: str, width: int) -> str:
    """The text filled, its paragraphs kept; they are parted by blank lines."""
    return "\n\n".join(_filled(part, width, "  ") for part in text.strip().split("\n\n"))


def _filled(text: str, width: int, margin: str = "") -> str:
    words = " ".join(text.split())
    return paragraph(words, width, first=margin, rest=margin)


def _plan(text: str) -> str:
    return indent(text.strip("\n"), INDENT)


def all_cautions(rules: Iterable[Rule], width: int = 80) -> str:
    """The cautions for everything, those of each job, then those of single rules."""
    single = [f"{rule.name}: {rule.caution}" for rule in rules if rule.caution]
    return "\n\n".join(_filled(text, width) for text in (*GENERAL_CAUTIONS, *CAUTIONS.values(), *single))
