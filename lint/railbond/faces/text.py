"""Findings as text: for a terminal, a pipe, or an editor that jumps to a compiler's error lines."""

from __future__ import annotations

import os
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence

from railbond.files import Trouble
from railbond.findings import LEVELS, Finding, Fix, Step
from railbond.saying import printable
from trackplan.record import NamedTuple
from trackplan.typed import TYPE_CHECKING

from .folding import folded
from .places import Sources, counted, line_at, point_at, said

if TYPE_CHECKING:
    from typing import TextIO

    from .likewise import Likewise
    from .patch import LineChange

INDENT = 9
NO_BREAK = "\xa0"
MOST_EFFECTS = 4
COLORS = {"error": "1;31", "warning": "1;33", "note": "1;34"}


class TextStyle(NamedTuple):
    """How wide the text may run, whether a finding's first line is broken too, whether it has color, and whether of
    many changes of a kind a few are shown, and the others told by their lines."""

    width: int = 80
    fold: bool = True
    color: bool = False
    in_short: bool = False


def look_for(stream: TextIO, environment: Mapping[str, str] = os.environ) -> TextStyle:
    """On a terminal as wide as it is, up to 100 columns; elsewhere a finding's first line stays whole."""
    if not stream.isatty():
        return TextStyle(fold=False)
    try:
        width = os.get_terminal_size(stream.fileno()).columns
    except (OSError, ValueError):
        width = 80
    plain = environment.get("NO_COLOR") or environment.get("TERM") == "dumb"
    return TextStyle(min(max(width, 40), 100), True, not plain)


def told(finding: Finding, sources: Sources, look: TextStyle, same: Sequence[str] = ()) -> str:
    """One finding: its first line, then the setting, the reason step by step, what to do, and where else the `same` is
    found."""
    lines = [_headline(finding, sources, look)]
    if finding.setting:
        exact = f" ({finding.exactly})" if finding.exactly else ""
        lines += _labeled("when", f"{finding.setting}{exact}", look)
    for index, text in enumerate(_reason(finding.why, sources)):
        lines += _labeled("" if index else "why", text, look)
    for text in _effects(finding.also, sources):
        lines += _labeled("also", text, look)
    for index, fix in enumerate(finding.fixes):
        lines += _mend("or" if index else "do", fix._replace(then=fix.then if not index else ()), sources, look)
    for index, place in enumerate(same):
        lines += _labeled("" if index else "same", place, look)
    return "\n".join(lines)


def _effects(also: tuple[Finding, ...], sources: Sources) -> list[str]:
    """What else the same slip does, each once; the last of many by their number alone."""
    texts = list(dict.fromkeys(f"{one.message} ({line_at(one.at, sources)})" for one in also))
    more = [f"{len(texts) - MOST_EFFECTS} more such effects"] if len(texts) > MOST_EFFECTS + 1 else []
    return [*texts[:MOST_EFFECTS], *more] if more else texts


def _headline(finding: Finding, sources: Sources, look: TextStyle) -> str:
    what = "" if finding.happens == "on paper" else f"{finding.happens}: "
    message = printable(finding.message)
    start = f"{point_at(finding.at, sources)}: {finding.level}:"
    text = f"{start} {what}{message} (rule{NO_BREAK}{finding.rule})"
    if look.fold:
        text = "\n".join(folded(text, look.width, "", "    "))
    if look.color:
        painted = f"\x1b[{COLORS[finding.level]}m{finding.level}\x1b[0m"
        text = text.replace(f": {finding.level}:", f": {painted}:", 1)
    return text.replace(NO_BREAK, " ")


def _reason(steps: Iterable[Step], sources: Sources) -> list[str]:
    """The steps, each with its line; those that one line explains together, and a repeated one once."""
    merged: list[tuple[str, dict[str, int]]] = []
    for step in steps:
        place = line_at(step.at, sources) if step.at else ""
        if not merged or not place or merged[-1][0] != place:
            merged.append((place, {}))
        texts = merged[-1][1]
        texts[step.text] = texts.get(step.text, 0) + 1
    return [_step(place, texts) for place, texts in merged]


def _step(place: str, texts: dict[str, int]) -> str:
    words = "; ".join(text if times == 1 else f"{text} ({times} times)" for text, times in texts.items())
    return printable(f"{words} ({place})" if place else words)


def _mend(label: str, fix: Fix, sources: Sources, look: TextStyle) -> Iterator[str]:
    from .likewise import Likewise, in_short
    from .patch import changes

    yield from _labeled(label, said(fix), look)
    made = changes(fix.edits, sources)
    for change in in_short(made) if look.in_short else made:
        if isinstance(change, Likewise):
            yield from _labeled("", _others(change), look)
        else:
            yield from (" " * INDENT + printable(line) for line in _shown(change))
    for text in fix.then:
        yield from _labeled("", f"then also: {text}", look)


def _others(likewise: Likewise) -> str:
    return f"and likewise in lines {', '.join(map(str, likewise.lines))} of {likewise.path} (--each shows each)"


def _shown(change: LineChange) -> Iterator[str]:
    """The change as lines that can be read aloud: where, what to take out, what to write."""
    place = f"{change.path}:{change.line}"
    if not change.old:
        yield f"after {place} add" if change.line else f"at the top of {change.path} add"
    elif not change.new:
        yield f"take out {place}"
        yield from (f"    {line}" for line in change.old)
    else:
        yield f"at {place} in place of"
        yield from (f"    {line}" for line in change.old)
        yield "write"
    yield from (f"    {line}" for line in change.new)


def _labeled(label: str, text: str, look: TextStyle) -> list[str]:
    return folded(printable(text), look.width, f"    {label:<{INDENT - 4}}", " " * INDENT)


def cautions(findings: Iterable[Finding], look: TextStyle) -> list[str]:
    """What is dangerous about looking for these faults or mending them, each told once."""
    return warned(dict.fromkeys(text for finding in findings for text in finding.cautions), look)


def warned(texts: Iterable[str], look: TextStyle) -> list[str]:
    """Cautions, each as a paragraph of its own."""
    return ["\n".join(folded(f"Take care: {text}", look.width, "", "    ")) for text in texts]


def noted(remarks: Iterable[str], look: TextStyle) -> list[str]:
    """What was not looked at, each told once, with the number of plans of which it is true."""
    counts = Counter(remarks)
    texts = [text if count == 1 else f"{text} (in {count} plans)" for text, count in counts.items()]
    return ["\n".join(folded(f"Note: {text}.", look.width, "", "    ")) for text in texts]


def unproven(troubles: Sequence[Trouble], style: TextStyle) -> str:
    """What is said in the place of a proof where something stood in the way of it."""
    files = len({trouble.path for trouble in troubles})
    it = "it" if files == 1 else "they"
    text = f"Not proven: {counted(files, 'file')} could not be read, written or inspected as {it} should."
    return "\n".join(folded(text, style.width))


def nothing(plans: int) -> str:
    """What is said in the place of a proof where plans are empty."""
    return f"Nothing is proven of {counted(plans, 'plan')}: no line in {'it' if plans == 1 else 'them'} says anything."


def closing(findings: Sequence[Finding], plans: int, look: TextStyle) -> str:
    """The last words: how many of each level, and how to learn more."""
    levels = [finding.level for finding in findings]
    if not levels:
        return f"No faults found in {counted(plans, 'plan')}: proven for every setting of the turnouts."
    counts = [counted(levels.count(level), level) for level in reversed(LEVELS) if level in levels]
    listed = " and ".join([", ".join(counts[:-1]), counts[-1]] if counts[1:] else counts)
    worst = max(findings, key=lambda finding: LEVELS.index(finding.level))
    more = f"`railbond rules {worst.rule}` tells more about the first {worst.level}."
    if worst.level == "note" and all(finding.rule != "not-proven" for finding in findings):
        proof = f"No errors and no warnings in {counted(plans, 'plan')}: proven for every setting of the turnouts."
        return "\n".join((*folded(proof, look.width), *folded(f"{listed}. {more}", look.width)))
    return "\n".join(folded(f"{listed} in {counted(plans, 'plan')}. {more}", look.width))
