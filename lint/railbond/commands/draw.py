"""Draws a plan's track as a schematic: both rails, what each carries, cuts, wires, frogs and findings.

The picture is one SVG file that any browser shows. With --setting the rails have the polarity of that moment.
Exit status: 0 when the picture is written, 2 when it cannot be.
"""

from __future__ import annotations

import sys
from argparse import ArgumentParser, Namespace

from railbond.circuit.facts import Facts
from railbond.files import Files
from railbond.findings import Finding
from railbond.inspection import examine
from trackplan.gather import GatheredPlan, gather

from ._near import near


def arguments(parser: ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("path", metavar="PATH", help="the plan to draw")
    parser.add_argument("-o", dest="out", metavar="FILE.svg", help="where to write it (standard output unless said)")
    parser.add_argument(
        "--setting", metavar="TEXT", help='draw the polarity as it is then, such as "T1 diverging, T2 through"'
    )
    parser.set_defaults(refuse=parser.error)


def run(options: Namespace) -> int:
    """Draws the plan, whatever is wrong with it."""
    from railbond.faces.drawing.picture import draw

    files = Files()
    try:
        gathered = gather(options.path, files.open_text)
    except OSError as error:
        options.refuse(f"{options.path}: cannot be read: {error.strerror or error}")
    facts, findings = _examined(gathered, files)
    setting = None if options.setting is None else _setting(options, facts.graph.positions)
    for trouble in files.troubles:
        print(f"railbond: {trouble}", file=sys.stderr)
    return _written(options, draw(facts, findings, setting))


def _examined(gathered: GatheredPlan, files: Files) -> tuple[Facts, list[Finding]]:
    """A plan's facts and findings; a meet's are those of the whole, with its modules coupled."""
    from railbond.meet.examining import examine_meet
    from railbond.meet.reading import is_meet, read_meet
    from railbond.rules import all_rules

    if is_meet(gathered):
        outcome = examine_meet(read_meet(gathered, files.open_text))
        return outcome.whole, outcome.placed
    facts = Facts(gathered.statements, gathered.sources, gathered.broken)
    return facts, sorted(examine(facts, all_rules()), key=lambda one: (one.at, one.rule))


def _setting(options: Namespace, positions: dict[str, tuple[str, ...]]) -> dict[str, str]:
    """`T1 diverging, T2 through` as positions by name; what the plan does not have ends the command."""
    found: dict[str, str] = {}
    for part in options.setting.split(","):
        name, _, position = " ".join(part.split()).rpartition(" ")
        if not name:
            options.refuse(f"--setting: expected a turnout and its route, such as `T1 diverging`, not {part.strip()!r}")
        if name not in positions:
            options.refuse(f"--setting: there is no turnout {name!r}{near(name, positions)}")
        if position not in positions[name]:
            options.refuse(f"--setting: {name} can be set {' or '.join(positions[name])}, not {position!r}")
        found[name] = position
    return found


def _written(options: Namespace, picture: str) -> int:
    if options.out is None:
        print(picture, end="")
        return 0
    try:
        with open(options.out, "w", encoding="utf-8") as file:
            file.write(picture)
    except OSError as error:
        options.refuse(f"{options.out}: cannot be written: {error.strerror or error}")
    return 0
