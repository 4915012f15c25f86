"""The bench sheet as a page to print."""

from __future__ import annotations

from railbond.bench.jobs import jobs
from railbond.bench.ohms import Ohms
from railbond.bench.sheet import ProbeGroup, Sheet

from .cautions import METER
from .meter_words import by_hand, legend, lying, reading, summary, thing, throws, tried_before, unseen_words
from .paper import PaperSection, paper
from .schedule_page import rails


def page(title: str, sheet: Sheet, ohms: Ohms, every: bool = False) -> str:
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
    drawings = rails(jobs(sheet.points.facts)) if where else []
    return paper(title, "Bench sheet", METER, sections, f"{summary(sheet)}{hidden}{looking}{where}", drawings)


def _stand(sheet: Sheet, stand: ProbeGroup, number: int, ohms: Ohms) -> PaperSection:
    name = sheet.points.name
    rows = [
        (str(index), name[probe.one], name[probe.other], reading(probe, stand, ohms))
        for index, probe in enumerate(stand.probes, number + 1)
    ]
    head = throws(stand) if stand.thrown else "Probe"
    return PaperSection(head, ("probe", "one lead at", "the other at", "the meter"), rows, strong=frozenset((1, 2, 3)))
