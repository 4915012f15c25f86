"""Tells where to put a meter's leads so that any one wiring mistake shows: the fewest probes, with boxes to tick.

The supply is unplugged. Points are to be set so, and each pair of places must beep or must not. What no reading can
show is counted, and listed with why where the schedule has not tried it when the job was done; `--all` lists all of it.
What you then see can be told to `railbond diagnose`.

Exit status: 0 when the sheet is told, 2 when the call cannot be understood or a file cannot be read or written.
"""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from typing import TYPE_CHECKING

from ._paper import needs_pages, paper_arguments, written
from ._plan import facts_of, files_for, plan_argument, tell_shorts, title_of
from ._working import Working

if TYPE_CHECKING:
    from railbond.bench.ohms import Ohms
    from railbond.bench.sheet import Sheet


def arguments(parser: ArgumentParser) -> None:
    """What the command takes."""
    plan_argument(parser)
    paper_arguments(parser, ("text", "csv", "page"))
    parser.add_argument("--all", action="store_true", dest="every", help="list also what the schedule has tried")


def run(options: Namespace) -> int:
    """Tells the sheet and gives the exit status."""
    needs_pages(options)
    files = files_for(options)
    facts = facts_of(options.path, files)
    if facts is None:
        return 2
    tell_shorts(facts, options.path)
    from railbond.bench.ohms import Ohms
    from railbond.bench.sheet import sheet_of

    with Working("laying out the probes"):
        sheet, ohms, title = sheet_of(facts), Ohms(facts), title_of(facts, options.path)
        text = _told(options, title, sheet, ohms)
    return written(options.out, text, files.read)


def _told(options: Namespace, title: str, sheet: Sheet, ohms: Ohms) -> str:
    """The sheet as it was asked for."""
    if options.face == "csv":
        from railbond.faces.meter_csv import rows

        return rows(sheet, ohms)
    if options.face == "page":
        from railbond.faces.meter_page import page

        return page(title, sheet, ohms, options.every, options.path)
    from railbond.faces.meter import told

    return told(title, sheet, ohms, options.every)
