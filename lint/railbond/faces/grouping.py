"""Findings in the order in which they are told, and those that say the same of many places as one."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from railbond.findings import LEVELS, Finding

from .places import Sources, point_at

_WORDS = re.compile(r"[A-Za-z][\w-]*")
_SIDES = frozenset({"left", "right", "through", "diverging", "straight", "thrown", "inner", "outer"})
_NUMBERS = re.compile(r"\d+(?:\.\d+)?(?: ?(?:mm|cm|m|in|ft|A|mA|V|%)\b)?")


def worst_first(findings: Iterable[Finding]) -> list[Finding]:
    """Errors, then warnings, then notes, each in the order in which they were found."""
    return sorted(findings, key=lambda one: -LEVELS.index(one.level))


def alike(findings: Sequence[Finding], sources: Sources) -> list[list[Finding]]:
    """The findings by groups that say the same of other places of a file: of one rule, and with one reason. A slip that
    is told with its effects stands alone."""
    if len(findings) == 1:
        return [[*findings]]
    groups: dict[object, list[Finding]] = {}
    named = {path: _named(source.text) for path, source in sources.items()}
    for one in findings:
        groups.setdefault(_said(one, named[one.at.path]), []).append(one)
    return list(groups.values())


def _named(text: str) -> frozenset[str]:
    """What the lines of a text are about: the word behind each keyword."""
    return frozenset(words[1] for line in text.splitlines() if len(words := line.split(maxsplit=2)) > 1)


def _said(finding: Finding, named: frozenset[str]) -> object:
    """What is said, without the names, sides and numbers of its place."""
    if finding.also:
        return finding.at, finding.message
    names = _SIDES.union(finding.names)
    words = _WORDS.sub(lambda word: "…" if word[0] in named or word[0] in names else word[0], finding.message)
    text = _NUMBERS.sub("#", words)
    return finding.at.path, finding.rule, finding.level, finding.happens, text, len(finding.fixes)


def same_at(others: Iterable[Finding], sources: Sources) -> list[str]:
    """The places of further findings that say the same, with what each is about."""
    told = []
    for one in others:
        name = f": {one.names[0]}" if one.names else ""
        setting = f" (when {one.setting})" if one.setting else ""
        told.append(f"{point_at(one.at, sources)}{name}{setting}")
    return told
