"""Papers for the bench as a page to print: tables with boxes to tick, and the cautions on top."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import NamedTuple

TEMPLATE = Path(__file__).with_name("paper.html")


class Section(NamedTuple):
    """A table with a box before each row; `lead` is said above it. `strong` numbers the columns that stand out."""

    head: str
    columns: Sequence[str]
    rows: Sequence[Sequence[str]]
    lead: str = ""
    strong: frozenset[int] = frozenset()


def paper(title: str, kind: str, cautions: Sequence[str], sections: Sequence[Section], intro: str = "") -> str:
    """One HTML file that needs nothing else."""
    from jinja2 import Environment, StrictUndefined

    from railbond import __version__

    environment = Environment(autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True)
    template = environment.from_string(TEMPLATE.read_text(encoding="utf-8"))
    return template.render(
        title=title, kind=kind, cautions=cautions, sections=sections, intro=intro, version=__version__
    )
