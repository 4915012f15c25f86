"""Walks a train from place to place: how to set the points, and what it meets foot by foot.

A place is a segment, a turnout, an end such as T1.points, a joint or an endplate. Of all runs without reversing the
shortest is told, or with --all every one. With --turned the run ends where it began, with the train facing the other
way: `railbond walk plan.trackplan yard loop yard --turned`.

Exit status: 0 when there is such a run, 1 when there is none, 2 when the call cannot be understood or a file cannot
be read.
"""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from itertools import islice
from typing import TYPE_CHECKING

from railbond.saying import say
from railbond.usage import UsageError, near

from ._plan import facts_of, files_for, plan_argument
from ._working import Working

if TYPE_CHECKING:
    from railbond.circuit.facts import Facts
    from railbond.circuit.running.routes import Journeying, Place, Routes


def arguments(parser: ArgumentParser) -> None:
    """What the command takes."""
    plan_argument(parser)
    parser.add_argument("places", nargs="+", metavar="PLACE", help="where from, and where to, in order")
    parser.add_argument("--turned", action="store_true", help="come back facing the other way")
    parser.add_argument("--reversing", action="store_true", help="let the train stop and go back, as seldom as can be")
    parser.add_argument("--all", action="store_true", help="tell every run, the shortest first")
    parser.add_argument("--engine", metavar="NAME", help="tell the stalls of this engine only")


def run(options: Namespace) -> int:
    """Tells the runs and gives the exit status."""
    from railbond.circuit.running.answers import running
    from railbond.circuit.running.journey import Journey
    from railbond.circuit.running.routes import Routes
    from railbond.faces.journey import told

    if len(options.places) < 2:
        raise UsageError("expected at least two places: where from, and where to")
    facts = facts_of(options.path, files_for(options))
    if facts is None:
        return 2
    track, places = running(facts).track, [_place(facts, options, name) for name in options.places]
    engines = [one for one in running(facts).engines if options.engine in (None, one.name)]
    if options.engine and not engines:
        known = [str(one.name) for one in facts.layout.engines]
        raise UsageError(f"there is no engine {options.engine!r}{near(options.engine, known)}")
    room = max((one.span for one in engines), default=0)
    routes = Routes(track, options.reversing, room)
    with Working("looking for a way"):
        runs = list(islice(routes.runs(places, options.turned), None if options.all else 1))
        nothing = "" if runs else _nothing(options, Routes(track, True, room), places)
        texts = [told(Journey(facts, track, one), engines, options.places) for one in runs]
    if nothing:
        say(nothing)
    say("\n\n".join(texts), end="\n" if texts else "")
    return int(not runs)


def _nothing(options: Namespace, routes: Routes, places: list[Place]) -> str:
    """That there is no such run, and whether reversing would help."""
    way = f"{' to '.join(options.places)}{' and back the other way round' if options.turned else ''}"
    if options.reversing:
        return f"No run leads from {way}."
    found: list[Journeying] = list(islice(routes.runs(places, options.turned), 1))
    times = len(found[0].reversals) if found else 0
    hint = f" With --reversing there is one that reverses {times} time{'s' * (times != 1)}." if found else ""
    return f"No run without reversing leads from {way}.{hint}"


def _place(facts: Facts, options: Namespace, name: str) -> Place:
    """The ends that a name stands for; refuses a name that stands for none."""
    from railbond.layout.model import EndAt

    pieces, edges = facts.layout.pieces, facts.layout.edges
    if name in pieces:
        return frozenset(EndAt(name, end) for end in pieces[name].template.ends)
    named = {str(EndAt(piece, end)): EndAt(piece, end) for piece in pieces for end in pieces[piece].template.ends}
    if name in named:
        return frozenset((named[name],))
    joints = {one.name: frozenset((one.one, one.other)) for one in facts.layout.meetings if one.name}
    if name in joints:
        return joints[name]
    if name in edges and edges[name].end:
        return frozenset((edges[name].end,))  # type: ignore[arg-type]
    raise UsageError(f"no place is called {name!r}{near(name, [*pieces, *joints, *edges, *named])}")
