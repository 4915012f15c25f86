"""What the page shows, gathered from inspections: plain texts and numbers, ready for the template."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from railbond.circuit.facts import Facts
from railbond.doorway import enter
from railbond.faces.drawing.drawn import whole
from railbond.faces.drawing.flags import flag
from railbond.faces.drawing.picture import PictureChoice, title_of
from railbond.faces.drawing.picture import drawing as picture
from railbond.faces.drawing.sheets import PAPERS, TitleBlock, printed_sheets
from railbond.faces.patch import changes
from railbond.faces.places import counted, line_at, said
from railbond.files import reopening
from railbond.findings import Finding
from railbond.inspection import Inspection
from railbond.saying import printable
from railbond.versions import today, version
from trackplan.span import Source, Span

STATES = {"runs": "runs", "doubts": "warnings", "faults": "faults", "unread": "not read"}
MOST_DRAWN = 40
"""Plans of no meet that are drawn on one page."""

WIDEST = 2300.0
"""The width of a drawing that is still to be read when it is shown whole on a screen."""


class Mend(NamedTuple):
    words: str
    lines: list[str]


class Item(NamedTuple):
    """A finding as the page shows it. `mark` is its numbered shape as SVG."""

    number: int
    mark: str
    level: str
    rule: str
    head: str
    when: str
    where: str
    line: str
    why: list[tuple[str, str]]
    mends: list[Mend]
    alone: bool
    cautions: tuple[str, ...]


class Row(NamedTuple):
    """A plan or module in the table."""

    name: str
    file: str
    owner: str
    state: str
    errors: int
    warnings: int
    notes: int
    trouble: str = ""
    version: str = ""

    @property
    def words(self) -> str:
        return STATES[self.state]

    @property
    def said(self) -> str:
        """Its state in words that count."""
        found = ((self.errors, "fault"), (self.warnings, "warning"), (self.notes, "note"))
        words = ", ".join(counted(number, word) for number, word in found if number)
        return self.words if self.state == "unread" else words if self.errors + self.warnings else self.words


class PersonsTask(NamedTuple):
    """What is to be done: who does it, at which module, in one sentence; and the number of its finding."""

    who: str
    module: str
    words: str
    number: int
    mark: str
    level: str


class Owner(NamedTuple):
    """Everything that one owner must see to."""

    name: str
    anchor: str
    state: str
    items: list[Item]


class ModuleSheet(NamedTuple):
    """One meet, or the plans of no meet: its drawings, its table, and what each owner must do."""

    title: str
    drawings: list[SheetDrawing]
    rows: list[Row]
    owners: list[Owner]
    wishes: list[tuple[bool, str]]
    tasks: list[PersonsTask]


class SheetDrawing(NamedTuple):
    """A drawing with its title: as it is shown on a screen, and on the sheets that are printed. One that `fits` a large
    screen is shown whole there."""

    title: str
    svg: str
    sheets: str
    fits: bool


def state_of(findings: Iterable[Finding]) -> str:
    levels = {finding.level for finding in findings}
    return "faults" if "error" in levels else "doubts" if "warning" in levels else "runs"


def row(name: str, file: str, owner: str, findings: Sequence[Finding], trouble: str = "") -> Row:
    levels = [finding.level for finding in findings]
    state = "unread" if trouble and not findings else state_of(findings)
    errors, warnings, notes = (levels.count(level) for level in ("error", "warning", "note"))
    return Row(name, file, owner, state, errors, warnings, notes, trouble, version(file))


def persons_task(number: int, finding: Finding, who: str, module: str) -> PersonsTask:
    """What a finding asks of somebody, in one sentence: its first mend, or what is wrong where none is known."""
    words = finding.fixes[0].words if finding.fixes else finding.message
    sentence = printable(words[:1].upper() + words[1:].removesuffix("."))
    return PersonsTask(who, module, f"{sentence}.", number, flag(0, 0, number, finding.level), finding.level)


def item(number: int, finding: Finding, sources: Mapping[str, Source], alone: bool = True, module: str = "") -> Item:
    """One finding, with its line of the plan, its reason and its mends. What a module has alone is told with its
    name."""
    happens = f"{module}: " if module and alone else ""
    happens += "" if finding.happens == "on paper" else f"{finding.happens}: "
    return Item(
        number,
        flag(0, 0, number, finding.level),
        finding.level,
        finding.rule,
        printable(f"{happens}{finding.message}"),
        finding.setting,
        line_at(finding.at, sources),
        _line(finding.at, sources),
        [(printable(step.text), line_at(step.at, sources) if step.at else "") for step in finding.reason],
        [Mend(printable(said(fix)), _changed(fix.edits, sources)) for fix in finding.fixes],
        alone,
        finding.cautions,
    )


def _line(at: Span, sources: Mapping[str, Source]) -> str:
    source = sources[at.path]
    return printable(source.line_text(source.line_of(at.start)).strip())


def _changed(edits: Sequence, sources: Mapping[str, Source]) -> list[str]:  # type: ignore[type-arg]
    """The lines to take out and to write, each with where it stands."""
    lines = []
    for change in changes(edits, sources):
        lines += [f"− {change.path}:{change.line}  {printable(line)}" for line in change.old]
        lines += [f"+ {change.path}:{change.line}  {printable(line)}" for line in change.new]
    return lines


def owners(told: Sequence[tuple[str, Item]]) -> list[Owner]:
    """The findings by owner, in the order in which owners come first."""
    found: dict[str, list[Item]] = {}
    for owner, one in told:
        found.setdefault(owner, []).append(one)
    bad = {"error": "faults", "warning": "doubts", "note": "runs"}
    order = ("faults", "doubts", "runs")
    return [
        Owner(name, f"owner-{place}", min((bad[one.level] for one in items), key=order.index), items)
        for place, (name, items) in enumerate(found.items(), 1)
    ]


def drawing(
    facts: Facts, findings: Sequence[Finding], title: str, name: str, file: str, titled: bool = True
) -> SheetDrawing:
    """A plan's picture, without the style sheet that the page has once and the list that stands below it; not `titled`
    where the page itself has that title."""
    look = PictureChoice(title if titled else "", listed=False, styled=False)
    drawn = picture(facts, findings, None, look)._replace(title=title)
    block = TitleBlock(today(), f"{file} ({version(file)})")
    return SheetDrawing(
        title,
        whole(drawn, styled=False, name=name),
        printed_sheets(drawn, block, PAPERS["a4"], name),
        drawn.frame.width < WIDEST,
    )


def plans_sheet(title: str, plans: Sequence[tuple[str, Inspection | None, str]]) -> ModuleSheet:
    """The sheet of plans that belong to no meet; each plan is its own owner."""
    rows: list[Row] = []
    told: list[tuple[str, Item]] = []
    drawings: list[SheetDrawing] = []
    tasks: list[PersonsTask] = []
    number = 0
    for path, inspection, trouble in plans:
        findings = inspection.findings if inspection else []
        rows.append(row(path, path, path, findings, trouble))
        for finding in findings:
            number += 1
            assert inspection is not None
            told.append((path, item(number, finding, inspection.sources)))
            tasks.append(persons_task(number, finding, "", path))
        if inspection and len(drawings) < MOST_DRAWN:
            drawings.append(_drawn(path, inspection, f"plan-{len(drawings) + 1}"))
    return ModuleSheet(title, drawings, rows, owners(told), [], tasks)


def _drawn(path: str, inspection: Inspection, name: str) -> SheetDrawing:
    facts = enter(path, reopening(inspection.sources)).facts
    return drawing(facts, inspection.findings, title_of(facts) or path, name, path)
