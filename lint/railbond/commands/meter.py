"""Tells where to put a meter's leads so that any one wiring mistake shows: the fewest probes, with boxes to tick.

The supply is unplugged. Points are to be set so, and each pair of places must beep or must not. What no reading can
show is listed, with why. What you then see can be told to `railbond diagnose`.

Exit status: 0 when the sheet is told, 2 when the call cannot be understood or a file cannot be read or written.
"""

from __future__ import annotations

from argparse import ArgumentParser, Namespace

from ._paper import needs_pages, paper_arguments, written
from ._plan import facts_of, tell_shorts, title_of


def arguments(parser: ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("path", metavar="PATH", help="a plan")
    paper_arguments(parser, ("text", "csv", "page"))


def run(options: Namespace) -> int:
    """Tells the sheet and gives the exit status."""
    needs_pages(options)
    facts = facts_of(options.path)
    if facts is None:
        return 2
    tell_shorts(facts, options.path)
    from railbond.bench.ohms import Ohms
    from railbond.bench.sheet import sheet_of

    sheet, ohms, title = sheet_of(facts), Ohms(facts), title_of(facts, options.path)
    if options.face == "csv":
        from railbond.faces.meter_csv import rows

        return written(options, rows(sheet, ohms))
    if options.face == "page":
        from railbond.faces.meter_page import page

        return written(options, page(title, sheet, ohms))
    from railbond.faces.meter import told

    return written(options, told(title, sheet, ohms))
