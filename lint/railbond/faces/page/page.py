"""The page: sheets put into the template."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from railbond import __version__
from railbond.faces.drawing.sheets import PAPERS, print_style
from railbond.faces.drawing.style import style
from railbond.faces.places import counted
from railbond.versions import today

from .gathering import STATES, ModuleSheet

TEMPLATE = Path(__file__).with_name("page.html")


def page(title: str, sheets: Sequence[ModuleSheet], cautions: Sequence[str] = ()) -> str:
    """One self-contained HTML file."""
    from jinja2 import Environment, StrictUndefined

    environment = Environment(autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True)
    template = environment.from_string(TEMPLATE.read_text(encoding="utf-8"))
    rows = [row for sheet in sheets for row in sheet.rows]
    counts = [(state, words, sum(row.state == state for row in rows)) for state, words in STATES.items()]
    return template.render(
        title=title, sheets=sheets, counts=counts, total=len(rows), cautions=cautions, drawing_style=style(),
        version=__version__, date=today(), verdict=verdict(sheets), print_style=print_style(PAPERS["a4"]),
    )  # fmt: skip


def verdict(sheets: Sequence[ModuleSheet]) -> str:
    """Whether it can run, in one line."""
    rows = [row for sheet in sheets for row in sheet.rows]
    found = [one for sheet in sheets for one in sheet.tasks]
    unread = sum(row.state == "unread" for row in rows)
    refused = any(not granted for sheet in sheets for granted, _ in sheet.wishes)
    faults = len({one.number for one in found if one.level == "error"})
    doubts = len({one.number for one in found if one.level == "warning"})
    if faults:
        places = list(dict.fromkeys(one.module for one in found if one.level == "error"))
        where = f" at {', '.join(places)}" if len(places) < 6 else ""
        return f"It does not run yet: {counted(faults, 'fault')} to mend{where}."
    if unread or refused:
        return f"Not proven: {counted(unread, 'plan')} could not be read." if unread else "It runs, but not as wished."
    if doubts:
        return f"It runs. {counted(doubts, 'warning')} to look at before the day."
    return f"It runs: {counted(len(rows), 'plan')}, proven for every setting of the points."
