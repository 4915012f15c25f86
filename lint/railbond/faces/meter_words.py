"""The words of the bench sheet, for its text, its page and its CSV."""

from __future__ import annotations

from railbond.bench.mistake import Mistake
from railbond.bench.ohms import BEEPS, Ohms
from railbond.bench.probes import Probe
from railbond.bench.sheet import ProbeGroup, Sheet
from railbond.layout.said import arrow

from .places import counted

BEEP, SILENT = "beep", "SILENT"
BEEP_WORDS = (
    "A cheap meter beeps up to some tens of ohms: a beep tells that there is a way, not that it is a good one. Where "
    "ohms are told, read them too, less what the leads read by themselves. SILENT is no beep and no reading."
)
FIRST = "THE PLAN ITSELF HAS SHORTS, and this sheet takes them as meant: mend the plan first, see `railbond inspect`."


def summary(sheet: Sheet) -> str:
    """How many probes there are, what they show, and how few there could be."""
    if not sheet.mistakes:
        return "There is nothing to probe: the plan has no wires, cuts or bonds."
    probes, shown = len(sheet.probes), len(sheet.mistakes) - len(sheet.unseen) - len(sheet.unproven)
    settings = f"{counted(probes, 'probe')} in {counted(len(sheet.stands), 'setting')} of the points"
    every = counted(len(sheet.mistakes), "single mistake")
    bound = "no sheet with these settings has fewer"
    if probes > sheet.fewest:
        bound = f"at least {sheet.fewest} are needed"
    shorts = f"{FIRST} " if sheet.points.facts.shorts else ""
    return (
        f"{shorts}{settings} show {shown} of {every} that can be made; {bound} (to try everything by itself takes "
        f"{sheet.naive}). Put one lead to each of the two places. {BEEP_WORDS} Where a reading is "
        "another, stop, note it, and ask `railbond diagnose`."
    )


def throws(stand: ProbeGroup) -> str:
    """What to do with the points before the probes of a setting."""
    switches = ", ".join(f"{switch} {position}" for switch, position in stand.thrown.items())
    if len(stand.thrown) == len(stand.setting):
        return f"Set {switches}"
    return f"Set {switches}; leave all other points as they stand"


def reading(probe: Probe, stand: ProbeGroup, ohms: Ohms) -> str:
    """What the meter must do."""
    if not probe.beeps:
        return f"must be {SILENT}"
    about = ohms.between(probe.one, probe.other, stand.setting)
    if about and about >= BEEPS:
        return f"must read about {about:.2g} ohm: a cheap meter may stay silent"
    return f"must {BEEP}" + (f", about {about:.2g} ohm" if about and about >= 0.1 else "")


def legend(sheet: Sheet) -> list[str]:
    """Which way to look at each segment that a probe touches."""
    touched = (end for probe in sheet.probes for end in (probe.one, probe.other))
    pieces = dict.fromkeys(sheet.points.facts.piece_of(end) for end in touched)
    own = (sheet.points.facts.layout.pieces[name] for name in pieces if name)
    told = ((piece, found) for piece in own if (found := arrow(piece)))
    return [f"along {piece.statement.name}: from {start} to {finish}" for piece, (start, finish) in told]


def thing(mistake: Mistake) -> str:
    """What a mistake is about: the wire or bond itself where it may be missing, else all its words."""
    return mistake.words.removesuffix(" is missing or makes no contact").removeprefix("the ")


TRIED = ("missing", "bond", "jumper", "cut")
"""How the kinds of mistakes begin that the schedule has tried where they can be made: a beep after each drop, a look
through each cut."""


def tried_before(mistake: Mistake) -> bool:
    """Whether the schedule's own check has shown a mistake when the job was done."""
    return mistake.kind.startswith(TRIED) and not mistake.hidden


def unseen_words(sheet: Sheet) -> str:
    """How many mistakes no reading shows, and when each of these was tried."""
    there = [one for one, _ in sheet.unseen if tried_before(one)]
    if not there:
        return ""
    return (
        f"No reading shows {counted(len(there), 'mistake')}, as another way joins the same two places. Each is tried "
        "while the job is done: `railbond schedule` has a beep after each drop, wire and bond, and a look through each "
        "cut. Was that left out, `railbond meter --all` lists them."
    )


def lying(sheet: Sheet) -> list[str]:
    """Where the places lie that are no plain track and no terminal."""
    facts, name = sheet.points.facts, sheet.points.name
    touched = dict.fromkeys(end for probe in sheet.probes for end in (probe.one, probe.other))
    own = (
        end for end in touched if facts.piece_of(end) and not facts.layout.pieces[facts.piece_of(end)].template.length
    )
    return [f"{name[end]}: {facts.graph.names[end]}" for end in own]


def by_hand(mistake: Mistake) -> str:
    """What to do at the bench where no reading of the whole tells."""
    if mistake.kind.startswith("missing"):
        return "Take the wire off its screw: its bare end and the metal that it goes to must beep"
    if mistake.kind.startswith("bond"):
        return "Look at the solder and tug at it"
    if "cut" in mistake.kind:
        return "Look through the gap: no metal may bridge it"
    return "Follow the wire with your hand"
