"""Tells where to put a meter's leads so that any one wiring mistake shows: the fewest probes, with boxes to tick.

The supply is unplugged. Points are to be set so, and each pair of places must beep or must not. What no reading can
show is listed, with why. What you then see can be told to `railbond diagnose`.

Exit status: 0 when the sheet is told, 2 when the call cannot be understood or a file cannot be read or written.
"""

from __future__ import annotations

from argparse import ArgumentParser, Namespace

from ._paper import needs_pages, paper_arguments, written
from ._plan import facts_of, files_for, plan_argument, tell_shorts, title_of


def arguments(parser: ArgumentParser) -> None:
    """What the command takes."""
    plan_argument(parser)
    paper_arguments(parser, ("text", "csv", "page"))


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

    sheet, ohms, title = sheet_of(facts), Ohms(facts), title_of(facts, options.path)
    if options.face == "csv":
        from railbond.faces.meter_csv import rows

        text = rows(sheet, ohms)
    elif options.face == "page":
        from railbond.faces.meter_page import page

        text = page(title, sheet, ohms)
    else:
        from railbond.faces.meter import told

        text = told(title, sheet, ohms)
    return written(options.out, text, files.read)
