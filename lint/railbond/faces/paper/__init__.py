"""Papers for the bench as a page to print: tables with boxes to tick, and the cautions on top."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import NamedTuple

TEMPLATE = Path(__file__).with_name("paper.html")


class PaperSection(NamedTuple):
    """A table with a box before each row; `lead` is said above it. `strong` numbers the columns that stand out, and
    `first` the one that comes first on a phone."""

    head: str
    columns: Sequence[str]
    rows: Sequence[Sequence[str]]
    lead: str = ""
    strong: frozenset[int] = frozenset()
    first: int = 0


def paper(
    title: str,
    kind: str,
    cautions: Sequence[str],
    sections: Sequence[PaperSection],
    intro: str = "",
    drawings: Sequence[tuple[str, str]] = (),
    pictures: Sequence[tuple[str, str]] = (),
    verdict: str = "",
    plan: str = "",
) -> str:
    """One HTML file that needs nothing else. `drawings` are headlines and drawings in letters, `pictures` the same as
    SVG. The `verdict` is one line, and `plan` the file that it is made from."""
    from jinja2 import Environment, StrictUndefined

    from railbond import __version__
    from railbond.faces.drawing.style import style
    from railbond.versions import today, version

    environment = Environment(autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True)
    template = environment.from_string(TEMPLATE.read_text(encoding="utf-8"))
    tables, said = [_narrowed(one) for one in sections], intro.replace("`", "")
    made = ", ".join(filter(None, (plan, version(plan) if plan else "")))
    return template.render(
        title=title, kind=kind, cautions=cautions, sections=tables, intro=said, drawings=drawings, version=__version__,
        pictures=pictures, verdict=verdict, date=today(), plan=made, style=style() if pictures else "",
    )  # fmt: skip


def _narrowed(section: PaperSection) -> PaperSection:
    """The table without the columns in which no row says anything."""
    kept = [index for index in range(len(section.columns)) if any(row[index] for row in section.rows)]
    strong = frozenset(kept.index(index) for index in section.strong if index in kept)
    rows = [[row[index] for index in kept] for row in section.rows]
    first = kept.index(section.first) if section.first in kept else 0
    return section._replace(columns=[section.columns[index] for index in kept], rows=rows, strong=strong, first=first)
