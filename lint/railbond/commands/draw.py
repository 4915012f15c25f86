"""Draws a plan's track as a schematic: both rails, what each carries, cuts, wires, frogs and findings.

The picture is one SVG file that any browser shows. With --setting the rails have the polarity of that moment.
Written to a FILE.html it is a page that answers: points are thrown, findings walked and trains driven in it.
Exit status: 0 when the picture is written, 2 when it cannot be.
"""

from __future__ import annotations

from argparse import ArgumentParser, Namespace

from railbond.usage import UsageError, near

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


def run(options: Namespace) -> int:
    """Draws the plan, whatever is wrong with it."""
    from railbond.faces.drawing.picture import draw

    files = files_for(options)
    found = opened(options.path, files)
    if found is None:
        return 2
    setting = None if options.setting is None else _setting(options, found.facts.graph.positions)
    with Working("drawing"):
        if (options.out or "").endswith((".html", ".htm")):
            from railbond.faces.live.page import page, railroad

            text = page(railroad(found.facts, found.placed, setting=setting))
        else:
            text = draw(found.facts, found.placed, setting)
    return written(options.out, text, files.read)


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
