"""From a plan's statements to the oracle's model."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator

from trackplan.read import read
from trackplan.span import Source as Text
from trackplan.statements import ClosureBond as BondStatement
from trackplan.statements import Cut, Segment, Statement, Turnout

from .rails import ALWAYS, Bond, Conductor, Feed, Meeting, Model, Pass
from .track import Cuts, Touching, Track, flip
from .turnouts import Rails, rails_of
from .wires import Wires


def model_of(text: str) -> Model:
    """The model of a plan that reads without a fault."""
    reading = read(Text("plan.trackplan", text))
    assert not reading.broken, reading.broken
    return model(reading.statements)


def model(statements: Iterable[Statement]) -> Model:
    """The model of a well-formed plan: no unknown names, nothing impossible."""
    statements = list(statements)
    cuts = Cuts(statements)
    track = Track(statements, cuts)
    wires = Wires(statements, cuts)
    work = work_of(statements)
    turnouts = [turnout_rails(one, work) for one in statements if isinstance(one, Turnout)]
    segments = [str(one.name) for one in statements if isinstance(one, Segment)]
    inside = [meeting for name in segments for meeting in cuts.inside(name)]
    wired = list(wires.frogs())
    return Model(
        tuple(str(one.name) for one in statements if isinstance(one, Turnout)),
        tuple(rail for name in segments for rail in cuts.rails(name))
        + tuple(rail for one in turnouts for rail in one.rails),
        tuple(frog for one in turnouts for frog in one.frogs),
        tuple(bond for one in turnouts for bond in one.bonds)
        + tuple(joiners(track))
        + tuple(one for one in wired if isinstance(one, Bond)),
        tuple(wires.drops()) + tuple(one for one in wired if isinstance(one, Feed)),
        tuple(roll for one in turnouts for roll in one.passes)
        + tuple(rolls(track))
        + tuple(Pass(one, other, ALWAYS, "cut") for one, other in crossed_cuts(inside)),
        tuple(blade for one in turnouts for blade in one.blades),
        tuple(meeting(track, touching) for touching in track.meetings) + tuple(inside),
    )


def work_of(statements: list[Statement]) -> dict[str, set[str]]:
    """What is bonded and cut at each turnout, in the words of its statements."""
    work: dict[str, set[str]] = defaultdict(set)
    for one in statements:
        if isinstance(one, Cut):
            work[one.turnout].add(str(one.what))
        elif isinstance(one, BondStatement):
            work[one.turnout].add("bond")
    return work


def turnout_rails(turnout: Turnout, work: dict[str, set[str]]) -> Rails:
    return rails_of(str(turnout.name), str(turnout.build), work[turnout.name])


def facing(track: Track, touching: Touching, side: str) -> tuple[Conductor, Conductor]:
    """The rails that meet on a side, looking out of the meeting's first end: left meets right."""
    return getattr(track.ends[touching.one], side), getattr(track.ends[touching.other], flip(side))


def joiners(track: Track) -> Iterator[Bond]:
    for touching in track.meetings:
        for side in ("left", "right"):
            if side not in touching.gaps:
                yield Bond(*facing(track, touching, side))


def rolls(track: Track) -> Iterator[Pass]:
    """Every joint is rolled over along both rails, gapped or not, by a train for which both sides are set."""
    for touching in track.meetings:
        when = track.ends[touching.one].when | track.ends[touching.other].when
        for side in ("left", "right"):
            yield Pass(*facing(track, touching, side), when, "joint")


def meeting(track: Track, touching: Touching) -> Meeting:
    one, other = track.ends[touching.one], track.ends[touching.other]
    gapped = {"left", "right"} <= touching.gaps
    turns = one.leaves == other.leaves
    return Meeting(one.node, other.node, turns, gapped, (one.left, one.right), (other.right, other.left))


def crossed_cuts(inside: list[Meeting]) -> Iterator[tuple[Conductor, Conductor]]:
    for one in inside:
        for before, after in zip(one.rails_one, one.rails_other, strict=True):
            if before != after:
                yield before, after
