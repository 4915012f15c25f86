"""What `railbond meet` tells of plans and meets: a table in text, SARIF of the whole, and the page."""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence

from railbond.batch.many import Result
from railbond.files import Trouble
from railbond.findings import Finding
from railbond.meet.examining import Outcome, Told
from railbond.rules import all_rules
from railbond.saying import printable

from .page.gathering import ModuleSheet, Row, drawing, item, owners, persons_task, plans_sheet, row


def text(single: Sequence[Result], outcomes: Sequence[Outcome]) -> str:
    """Every finding of the meets, owner by owner; then a table of all plans and the findings' number."""
    from .text import cautions, look_for, noted, told

    look, lines = look_for(sys.stdout), []
    for outcome in outcomes:
        sources, before = outcome.meet.sources, ""
        for owner, one, _ in _by_owner(outcome):
            lines += [f"For {printable(owner)}", ""] if owner != before else []
            lines += [told(one.finding, sources, look), ""]
            before = owner
        lines += [printable(f"{answer.words[0].upper()}{answer.words[1:]}.") + "\n" for answer in outcome.answers]
    for result in single:
        for finding in result.inspection.findings if result.inspection else ():
            assert result.inspection is not None
            lines += [told(finding, result.inspection.sources, look), ""]
    found = [one for outcome in outcomes for one in outcome.findings]
    found += [finding for one in single if one.inspection for finding in one.inspection.findings]
    return "\n".join(
        [*lines, *_table(rows(single, outcomes)), *cautions(found, look), *noted(_remarks(single, outcomes), look), ""]
    )


def _remarks(single: Sequence[Result], outcomes: Sequence[Outcome]) -> list[str]:
    found = [remark for outcome in outcomes for remark in outcome.remarks]
    found += [remark for one in single if one.inspection for remark in one.inspection.remarks]
    return [remark.text for remark in dict.fromkeys(found)]


def _by_owner(outcome: Outcome) -> list[tuple[str, Told, list[str]]]:
    """What each owner is told, and of which modules: once, also where two of them meet that are his."""
    found: dict[tuple[str, Finding, bool], tuple[str, Told, list[str]]] = {}
    for one in outcome.told:
        owner = outcome.meet.owners[one.module] if one.module else "the meet"
        _, _, modules = found.setdefault((owner, one.finding, one.alone), (owner, one, []))
        modules += [one.module] if one.module else []
    return list(found.values())


def rows(single: Sequence[Result], outcomes: Sequence[Outcome]) -> list[Row]:
    """All modules of all meets, then the plans that belong to none."""
    found = [one for outcome in outcomes for one in _meet_rows(outcome)]
    for one in single:
        found.append(row(one.path, one.path, one.path, one.inspection.findings if one.inspection else [], one.trouble))
    return found


def _meet_rows(outcome: Outcome) -> list[Row]:
    """The meet with what only the whole has, and each module with what it has alone: one that is right at home is not
    counted as faulty."""
    meet = outcome.meet
    whole = list(dict.fromkeys(one.finding for one in outcome.told if not one.alone))

    def of(module: str) -> list[Finding]:
        return [one.finding for one in outcome.told if one.module == module and one.alone]

    modules = [row(name, gathered.root, meet.owners[name], of(name)) for name, gathered in meet.modules.items()]
    return [row("the meet", meet.gathered.root, "the meet", whole), *modules]


def _table(all_rows: Sequence[Row]) -> list[str]:
    head = ("plan", "state", "errors", "warnings", "notes")
    body = [(printable(one.name), one.words, str(one.errors), str(one.warnings), str(one.notes)) for one in all_rows]
    widths = [max(len(line[column]) for line in (head, *body)) for column in range(len(head))]
    return ["  ".join(_aligned(line, widths)) for line in (head, *body)]


def _aligned(line: tuple[str, ...], widths: list[int]) -> Iterator[str]:
    """Words to the left, numbers to the right."""
    for place, (cell, width) in enumerate(zip(line, widths, strict=True)):
        yield cell.ljust(width) if place < 2 else cell.rjust(width)


def sarif(single: Sequence[Result], outcomes: Sequence[Outcome], troubles: Sequence[Trouble], top: str | None) -> str:
    """One log of everything."""
    from .sarif import written

    findings = [one for outcome in outcomes for one in outcome.findings]
    sources = {path: source for outcome in outcomes for path, source in outcome.meet.sources.items()}
    for one in single:
        findings += one.inspection.findings if one.inspection else []
        sources |= one.inspection.sources if one.inspection else {}
    lost = [Trouble(one.path, None, one.trouble) for one in single if one.trouble and not one.inspection]
    remarks = [remark for outcome in outcomes for remark in outcome.remarks]
    remarks += [remark for one in single if one.inspection for remark in one.inspection.remarks]
    told = [*troubles, *lost]
    return written(list(dict.fromkeys(findings)), sources, all_rules(), told, list(dict.fromkeys(remarks)), top)


def page(single: Sequence[Result], outcomes: Sequence[Outcome]) -> str:
    """The page: a sheet for each meet, and one for the plans that belong to none."""
    from .drawing.picture import title_of
    from .page.page import page as put
    from .teaching import GENERAL_CAUTIONS

    sheets = [_meet_sheet(outcome, f"meet-{place}") for place, outcome in enumerate(outcomes, 1)]
    if single or not sheets:
        sheets.append(plans_sheet("Plans", [(one.path, one.inspection, one.trouble) for one in single]))
    title = title_of(outcomes[0].whole) if outcomes else ""
    return put(title or "Wiring plans", sheets, GENERAL_CAUTIONS)


def _meet_sheet(outcome: Outcome, name: str) -> ModuleSheet:
    from .drawing.picture import title_of

    meet = outcome.meet
    number = {finding: place for place, finding in enumerate(outcome.findings, 1)}
    own = _by_owner(outcome)
    told = [
        (owner, item(number[one.finding], one.finding, meet.sources, one.alone, one.module)) for owner, one, _ in own
    ]
    tasks = [persons_task(number[one.finding], one.finding, *_who(outcome, one, names)) for _, one, names in own]
    title = title_of(outcome.whole) or meet.gathered.root
    wishes = [(answer.granted, answer.words) for answer in outcome.answers]
    placed = drawing(outcome.whole, outcome.placed, title, name, meet.gathered.root, titled=False)
    return ModuleSheet(title, [placed], _meet_rows(outcome), owners(told), wishes, tasks)


def _who(outcome: Outcome, one: Told, own: list[str]) -> tuple[str, str]:
    """Who must see to a finding, and at which module: its `own`, or where two modules meet, both of them."""
    known = outcome.meet.modules
    named = [name if name in known else name.partition(".")[0] for name in one.finding.names[:2]]
    modules = own or list(dict.fromkeys(name for name in named if name in known))
    people = dict.fromkeys(outcome.meet.owners[name] for name in modules)
    return " and ".join(people) or "the meet", " and ".join(modules) or "the meet"
