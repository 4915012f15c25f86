"""What is found today as lines of a plan that accept it: for the day on which a club begins with an old plan."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from datetime import date

from railbond.circuit.facts import Facts
from railbond.circuit.keeping import keep_revisions
from railbond.findings import Finding
from railbond.layout.accepted import is_known
from railbond.layout.desk import Desk
from railbond.layout.model import Layout
from trackplan.gather import GatheredPlan
from trackplan.span import Source
from trackplan.statements import Accept

from .overlay import Overlay

LONGEST = 100
"""Characters of a message that go into the reason."""

ROUNDS = 8
"""How many of a finding's names are tried."""

NEVER = frozenset({"acceptance-unused", "acceptance-without-reason"})
"""Rules about acceptances themselves."""

NO_PLACE = {*NEVER, "unknown-name"}
"""What is told of a new line whose name is none that it can be accepted at."""

Place = tuple[str, str]
"""A rule, and the name at which what it finds is accepted."""


Texts = dict[str, str]
Told = Callable[[Texts], list[Finding]]
"""What would be told with some texts changed."""


def accepting(
    overlay: Overlay, root: str, rules: Collection[str], told: Told, into: str | None = None
) -> tuple[Texts, int]:
    """The plan's texts with a line for each finding (of some `rules`, or of all) that can be accepted, and how many
    lines they are: each in the file of its finding, or all of them `into` one. What a line does not silence is tried at
    the finding's other names, and what one finding had told among its effects, or had hidden, gets a line of its own;
    lines that bring any other finding are none. What is told of several things and goes on with fewer is accepted at
    all that are left, at once."""
    inspection = overlay.inspection(root)
    before = (*inspection.findings, *inspection.known)
    places, seen = _places(inspection.findings, rules), [*before]
    for _ in range(ROUNDS):
        texts = _written(overlay, root, places, into)
        left = told(texts) if texts else inspection.findings
        new = [one for one in left if _is_new(one, before)]
        if any(one.rule not in NO_PLACE and one.level != "note" and not _is_asked(one, rules) for one in new):
            return {}, 0
        idle = {name for one in new if one.rule in NO_PLACE for name in one.names}
        useless = {place: one for place, one in places.items() if place[1] in idle or _is_told(place, left)}
        emerged = {place: one for place, one in _places(left, rules).items() if place not in places}
        emerged |= {(one.rule, name): one for one in emerged.values() if _goes_on(one, seen) for name in one.names}
        seen += left
        if not useless and not emerged:
            return texts, len(places)
        places = {place: one for place, one in places.items() if place not in useless} | emerged
        places |= {place: one for (_, name), one in useless.items() for place in _next(one, name)}
    return {}, 0


def with_more_accepted(facts: Facts, was: GatheredPlan, new: GatheredPlan) -> Facts | None:
    """The facts of a plan with more accepted in new last lines: only what hangs on that will be asked anew. None where
    it says more than that, or accepts at a name that there is not."""
    more = tuple(one for one in new.statements if isinstance(one, Accept) and one not in was.statements)
    old = [one for one in new.statements if one not in more]
    if new.broken != was.broken or old != was.statements:
        return None
    if not all(_is_place(facts.layout, str(one.place)) for one in more):
        return None
    keep_revisions(facts)
    return facts.accepting(more, new.sources)


def _is_place(layout: Layout, name: str) -> bool:
    """Whether something is accepted there without a word: where there is such a name, or a line that was not read may
    have had it."""
    desk = layout.desk
    return is_known(name, layout.acceptable) or (isinstance(desk, Desk) and desk.names.silent(name))


def _places(findings: Iterable[Finding], rules: Collection[str]) -> dict[Place, Finding]:
    """Where each of the findings that are asked for is accepted first."""
    return {(one.rule, one.names[0]): one for one in findings if _is_asked(one, rules)}


def _goes_on(finding: Finding, before: Iterable[Finding]) -> bool:
    """Whether it was found before of these things and more."""
    return any(one.rule == finding.rule and set(finding.names) < set(one.names) for one in before)


def _is_asked(finding: Finding, rules: Collection[str]) -> bool:
    """Whether a finding can be accepted, and is to be."""
    return bool(finding.names) and finding.rule not in NEVER and (not rules or finding.rule in rules)


def _is_told(place: Place, findings: Iterable[Finding]) -> bool:
    """Whether a rule still tells something at a name."""
    return any(one.rule == place[0] and place[1] in one.names for one in findings)


def _is_new(finding: Finding, before: Iterable[Finding]) -> bool:
    """Whether nothing of its rule was known at its line or at any of its names."""
    known = (one for one in before if one.rule == finding.rule)
    return not any(one.at == finding.at or set(one.names) & set(finding.names) for one in known)


def _next(finding: Finding, name: str) -> list[Place]:
    """The place after one at which a finding may be accepted, if there is another."""
    others = finding.names[finding.names.index(name) + 1 :]
    return [(finding.rule, other) for other in others[:1]]


def _written(overlay: Overlay, root: str, places: Mapping[Place, Finding], into: str | None) -> dict[str, str]:
    """The texts with the lines at their ends, each in the file of its finding, unless all go into one."""
    by_path: dict[str, list[str]] = {}
    for (_, name), finding in places.items():
        by_path.setdefault(into or finding.at.path, []).append(line(finding, name))
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
