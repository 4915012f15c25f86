"""What is found today as lines of a plan that accept it: for the day on which a club begins with an old plan."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from datetime import date

from railbond.findings import Finding
from trackplan.span import Source

from .overlay import Overlay

LONGEST = 100
"""Characters of a message that go into the reason."""

ROUNDS = 6
"""How many of a finding's names are tried."""

NEVER = frozenset({"acceptance-unused", "acceptance-without-reason"})
"""Rules about acceptances themselves."""

Place = tuple[str, str]
"""A rule, and the name at which what it finds is accepted."""


def accepting(overlay: Overlay, root: str, findings: Iterable[Finding]) -> tuple[dict[str, str], int]:
    """The plan's texts with a line for each finding that can be accepted, and how many lines they are. What a line does
    not silence is tried at the finding's other names; lines that bring a finding are none."""
    before = {_key(one) for one in overlay.inspection(root).findings}
    places = {(one.rule, one.names[0]): one for one in findings if one.names and one.rule not in NEVER}
    for _ in range(ROUNDS):
        texts = _written(overlay, root, places)
        left = {_key(one) for one in overlay.inspected(root, texts).findings} if texts else before
        if left - before:
            return {}, 0
        useless = {place: one for place, one in places.items() if _key(one) in left}
        if not useless:
            return texts, len(places)
        places = {place: one for place, one in places.items() if place not in useless}
        places |= {place: one for (_, name), one in useless.items() for place in _next(one, name)}
    return {}, 0


def _next(finding: Finding, name: str) -> list[Place]:
    """The place after one at which a finding may be accepted, if there is another."""
    others = finding.names[finding.names.index(name) + 1 :]
    return [(finding.rule, other) for other in others[:1]]


def _key(finding: Finding) -> tuple[str, str, tuple[str, ...]]:
    """A finding by what lines that are added at the end of a file do not change."""
    return finding.rule, finding.message, finding.names


def _written(overlay: Overlay, root: str, places: Mapping[Place, Finding]) -> dict[str, str]:
    """The texts with the lines at their ends, each in the file of its finding."""
    by_path: dict[str, list[str]] = {}
    for (_, name), finding in places.items():
        by_path.setdefault(finding.at.path, []).append(line(finding, name))
    sources = overlay.inspection(root).sources
    return {path: "".join(_appended(sources[path], lines)) for path, lines in by_path.items()}


def _appended(source: Source, lines: list[str]) -> Iterator[str]:
    yield source.text
    if source.text and not source.text.endswith(("\n", "\r")):
        yield source.newline
    yield source.newline
    yield f"# what railbond found here on {date.today()}: mend it, or say why it is no fault{source.newline}"
    yield from (f"{one}{source.newline}" for one in dict.fromkeys(lines))


def line(finding: Finding, name: str) -> str:
    """The line that accepts a finding at a name."""
    words = " ".join(finding.message.replace('"', "'").split())
    short = words if len(words) <= LONGEST else f"{words[:LONGEST].rpartition(' ')[0]} …"
    return f'accept    {finding.rule} at {name} because "known on {date.today()}: {short}"'
