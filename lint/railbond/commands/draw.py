"""Draws a plan's track as a schematic: both rails, what each carries, cuts, wires, frogs and findings.

The picture is one SVG file that any browser shows. With --setting the rails have the polarity of that moment.
With --paper it is scaled to a sheet, with a title block; where its letters would be too small it is tiled over several
that overlap, FILE-1.svg and on. Written to a FILE.html it is a page that answers: points are thrown, findings walked
and trains driven in it; it prints on such sheets.
Exit status: 0 when the picture is written, 2 when it cannot be.
"""

from __future__ import annotations

import os
from argparse import ArgumentParser, Namespace

from railbond.circuit.facts import Facts
from railbond.findings import Finding
from railbond.saying import say
from railbond.usage import UsageError, near
from railbond.versions import today, version

from ._paper import written
from ._plan import files_for, opened, plan_argument
from ._working import Working


def arguments(parser: ArgumentParser) -> None:
    """What the command takes."""
    plan_argument(parser, "the plan to draw")
    parser.add_argument(
        "-o",
        dest="out",
        metavar="FILE",
        help="FILE.svg, or FILE.html for a page that answers (else standard output)",
    )
    parser.add_argument(
        "--setting", metavar="TEXT", help='draw the polarity as it is then, such as "T1 diverging, T2 through"'
    )
    parser.add_argument(
        "--paper", choices=("a4", "letter", "phone"), help="scale it to a sheet, or tile it over several"
    )


def run(options: Namespace) -> int:
    """Draws the plan, whatever is wrong with it."""
    files = files_for(options)
    with Working("drawing"):
        found = opened(options.path, files)
        if found is None:
            return 2
        placed = found.placed  # first, so that the facts are those by which it was inspected
        setting = None if options.setting is None else _setting(options, found.facts.graph.positions)
        texts = _drawn(options, found.facts, placed, setting)
    if len(texts) == 1:
        return written(options.out, texts[0], files.read)
    if options.out is None:
        raise UsageError(f"the drawing takes {len(texts)} sheets: name their files with `-o FILE.svg`")
    stem, ending = os.path.splitext(options.out)
    names = [f"{stem}-{number}{ending}" for number in range(1, len(texts) + 1)]
    states = [written(name, text, files.read) for name, text in zip(names, texts, strict=True)]
    say(f"{len(names)} sheets: {names[0]} to {names[-1]}")
    return max(states)


def _drawn(options: Namespace, facts: Facts, placed: list[Finding], setting: dict[str, str] | None) -> list[str]:
    """The text of each file."""
    from railbond.faces.drawing.picture import PictureChoice, draw, drawing, title_of
    from railbond.faces.drawing.sheets import PAPERS, TitleBlock, column, sheets

    block = TitleBlock(today(), f"{options.path} ({version(options.path)})")
    if (options.out or "").endswith((".html", ".htm")):
        from railbond.faces.live.page import page, railroad

        paper = PAPERS[options.paper or "a4"]
        return [page(railroad(facts, placed, setting=setting, printed=(block, paper)))]
    if options.paper is None:
        return [draw(facts, placed, setting)]
    paper = PAPERS[options.paper]
    look = PictureChoice(title_of(facts), column=column(paper), columns=False)
    return sheets(drawing(facts, placed, setting, look), block, paper)


def _setting(options: Namespace, positions: dict[str, tuple[str, ...]]) -> dict[str, str]:
    """`T1 diverging, T2 through` as positions by name; what the plan does not have ends the command."""
    found: dict[str, str] = {}
    for part in options.setting.split(","):
        name, _, position = " ".join(part.split()).rpartition(" ")
        if not name:
            raise UsageError(
                f"--setting: expected a turnout and its route, such as `T1 diverging`, not {part.strip()!r}"
            )
        if name not in positions:
            raise UsageError(f"--setting: there is no turnout {name!r}{near(name, positions)}")
        if position not in positions[name]:
            raise UsageError(f"--setting: {name} can be set {' or '.join(positions[name])}, not {position!r}")
        found[name] = position
    return found
