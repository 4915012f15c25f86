"""The bench sheet as a page to print."""

from __future__ import annotations

from railbond.bench.ohms import Ohms
from railbond.bench.sheet import ProbeGroup, Sheet

from .cautions import METER
from .drawing.piece_picture import piece_pictures
from .meter_words import by_hand, legend, lying, reading, summary, thing, throws, tried_before, unseen_words
from .paper import PaperSection, paper
from .places import counted


def page(title: str, sheet: Sheet, ohms: Ohms, every: bool = False, plan: str = "") -> str:
    """The whole sheet, a table for each setting of the points. `every` lists also what the schedule has tried."""
    sections, number = [], 0
    for stand in sheet.stands:
        sections.append(_stand(sheet, stand, number, ohms))
        number += len(stand.probes)
    rows = [
        (by_hand(mistake), thing(mistake), f"as {why}")
        for mistake, why in sheet.unseen
        if every or not tried_before(mistake)
    ]
    head = "No reading shows these: try each by hand"
    sections.append(PaperSection(head, ("what to do", "where", "why no reading shows it"), rows))
    untried = [(mistake.words,) for mistake in sheet.unproven]
    sections.append(PaperSection("Too many turnouts hang together here to try every setting", ("look for",), untried))
    looking = f" Left and right of a track are as one looks {'; '.join(legend(sheet))}." if legend(sheet) else ""
    where = f" Where places lie: {'; '.join(lying(sheet))}." if lying(sheet) else ""
    hidden = "" if every else f" {unseen_words(sheet)}"
    intro = f"{summary(sheet)}{hidden}{looking}{where}"
    beeps = sum(probe.beeps for probe in sheet.probes)
    verdict = f"{counted(len(sheet.probes), 'probe')}: {beeps} must beep, {len(sheet.probes) - beeps} must be silent."
    return paper(title, "Bench sheet", METER, sections, intro, pictures=probed(sheet), verdict=verdict, plan=plan)


def probed(sheet: Sheet) -> list[tuple[str, str]]:
    """A small picture of each piece of special trackwork that a probe touches: where its rails are."""
    facts, name = sheet.points.facts, sheet.points.name
    marked: dict[str, dict[int, str]] = {}
    for end in dict.fromkeys(end for probe in sheet.probes for end in (probe.one, probe.other)):
        piece = facts.piece_of(end)
        if piece and not facts.layout.pieces[piece].template.is_plain:
            marked.setdefault(piece, {})[end - facts.wiring.first[piece]] = name[end]
    return [(f"Where to probe {piece}", svg) for piece, svg in piece_pictures(facts, marked)]


def _stand(sheet: Sheet, stand: ProbeGroup, number: int, ohms: Ohms) -> PaperSection:
    name = sheet.points.name
    rows = [
        (str(index), name[probe.one], name[probe.other], reading(probe, stand, ohms))
        for index, probe in enumerate(stand.probes, number + 1)
    ]
    head = throws(stand) if stand.thrown else "Probe"
    return PaperSection(
        head, ("probe", "one lead at", "the other at", "the meter"), rows, strong=frozenset((1, 2, 3)), first=3
    )
