"""Modules and meets for the tests, as texts by their paths."""

from __future__ import annotations

from railbond.meet.examining import Outcome, examine_meet
from railbond.meet.reading import Meet, read_meet
from trackplan.gather import gather

TOWN = """\
plan "Town"
booster B1 15 V 5 A
district main from B1 trips 4 A
bus main -> P1
endplate E left red
segment line stop -> E 1 m
feeder P1 -> line
"""
STRAIGHT = """\
plan "Straight"
endplate W left black
endplate E left red
bus plug -> T1
segment line W -> E 1 m
feeder T1 -> line
"""
TWO_BOOSTERS = """\
plan "Town: a booster for each track"
booster BF 15 V 5 A
booster BB 15 V 5 A
district front from BF trips 4 A
district back from BB trips 4 A
bus front -> PF
bus back -> PB
endplate E-1 left red
endplate E-2 left red
segment f stop -> E-2 1.2 m
segment b stop -> E-1 1.2 m
feeder PF -> f
feeder PB -> b
"""
TWO_TRACKS = """\
plan "Two tracks"
endplate W-1 left black
endplate W-2 left black
endplate E-1 left red
endplate E-2 left red
bus plug-f -> PF
bus plug-b -> PB
segment front W-1 -> E-2 1.2 m
segment back W-2 -> E-1 1.2 m
feeder PF -> front
feeder PB -> back
"""
LOOP = """\
plan "Loop"
endplate W left black
segment lead W -> T1.points 1 m
turnout T1 left number 6 dead-frog
bond T1 closure rails to stock rails
segment loop T1.through -> T1.diverging 3 m
gap T1.through both rails
gap T1.diverging both rails
reverser R1 in plug
bus plug -> P
feeder P -> lead
feeder R1 -> loop
"""
MODULES = """\
plan "Meet"
module town "town.trackplan" owner "the town club"
module one "straight.trackplan"
module two "straight.trackplan"
module loop "loop.trackplan"
"""
COUPLES = "couple town.E -> one.W\ncouple one.E -> two.W\ncouple two.E -> loop.W\n"
BUSES = "bus town.P1 -> one.plug\nbus one.T1 -> two.plug\nbus two.T1 -> loop.plug\n"
SOUND = MODULES + COUPLES + BUSES
FILES = {"town.trackplan": TOWN, "straight.trackplan": STRAIGHT, "loop.trackplan": LOOP}

TWIN_W = """\
plan "Double track, western end"
booster B1 15 V 5 A
district main from B1
endplate E-1 left red
endplate E-2 left red
segment north stop -> E-1 1 m
segment south stop -> E-2 1 m
feeder main -> north
feeder main -> south
"""
TWIN_E = """\
plan "Double track, eastern end"
endplate W-1 left black
endplate W-2 left black
segment south W-1 -> stop 1 m
segment north W-2 -> stop 1 m
feeder plug -> south
feeder plug -> north
"""


def meet(text: str, **changed: str) -> Meet:
    """A meet of these modules; `changed` gives other texts for some, by name without the suffix."""
    files = FILES | {f"{name}.trackplan": one for name, one in changed.items()} | {"meet.trackplan": text}

    def open_text(path: str) -> str:
        if path not in files:
            raise FileNotFoundError(path)
        return files[path]

    return read_meet(gather("meet.trackplan", open_text), open_text)


def outcome(text: str, **changed: str) -> Outcome:
    return examine_meet(meet(text, **changed))


def told(text: str, **changed: str) -> list[tuple[str, str, str, int]]:
    """Module, rule, file and line of each finding that is no note."""
    found = outcome(text, **changed)
    sources = found.meet.sources
    return [
        (one.module, one.finding.rule, at.path, sources[at.path].line_column(at.start)[0])
        for one in found.told
        if (at := one.finding.at) and one.finding.level != "note"
    ]


def line_of(text: str, line: str) -> int:
    return text.splitlines().index(line) + 1
