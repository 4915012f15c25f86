"""The page: sheets put into the template."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from railbond import __version__
from railbond.faces.drawing.style import style

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
        version=__version__,
    )  # fmt: skip
