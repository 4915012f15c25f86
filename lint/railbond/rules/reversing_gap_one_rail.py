"""A reverser's section of which one end is gapped in one rail only."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.claims import feeds
from railbond.circuit.facts import Facts
from railbond.circuit.signed_graph import Seam
from railbond.findings import Claim, Fix, Found, Step

from .rule import Rule


def find(facts: Facts) -> Iterator[Found]:
    """Seams with one gapped rail that parts a reverser from fixed supply, while the other rail joins the two."""
    for seam in facts.turning.seams:
        if sum(seam.gapped) == 1:
            whole = seam.gapped.index(False)
            gapped = (
                facts.turning.kinds(seam.rails[1 - whole][0]),
                facts.turning.kinds(seam.rails[1 - whole][1]),
            )
            joined = facts.turning.kinds(seam.rails[whole][0])
            if {"fixed", "reverser"} <= joined and gapped[0] != gapped[1]:
                yield _finding(facts, seam, whole)


def _finding(facts: Facts, seam: Seam, whole: int) -> Found:
    from railbond.fixes.fix_edits import places_of, seam_edits, widened

    edits = (seam.meeting and widened(seam.meeting)) or seam_edits(facts, seam, (whole,))
    one, other = (facts.graph.names[conductor] for conductor in seam.rails[whole])
    reverser = min(n for n, kind in facts.turning.supplies(seam.rails[whole][0]) if kind == "reverser")
    at = seam.meeting.at if seam.meeting else facts.layout.pieces[seam.one[0]].statement.at
    cut = next((gap.at for gap in seam.meeting.gaps.values()), at) if seam.meeting else at
    place = f"{one} runs on into {other}" if one != other else f"{one} runs through"
    claims = (Claim("tied", (one, other)),) if one != other else ()
    return Found(
        cut,
        f"this end of {reverser}'s section is gapped in one rail only: {place}. When the reverser turns, it shorts "
        "against the fixed track.",
        (Step(cut, "one rail is gapped here"), Step(at, f"the other is not: {place}", claims)),
        "",
        (Fix(f"gap the other rail too: {places_of(edits)}", edits),),
        (seam.one[0], seam.other[0], reverser),
        claims=(feeds(facts, seam.rails[whole][0], reverser),),
    )


RULE = Rule(
    name="reversing-gap-one-rail",
    level="error",
    happens="short",
    turn=1,
    cause=True,
    find=find,
    when="there is a reverser",
    of_graph="proof",
    summary="A reverser's section is gapped in one rail only at one of its ends.",
    railroad=(
        "The reverser turns the polarity of its whole section. A rail that is not gapped ties it to track whose "
        "polarity is fixed, so half of the time it is shorted, train or no train."
    ),
    meter=(
        "Supply unplugged, reverser off its wires: probe across each rail's gap at each end of the section. None "
        "of the four may beep."
    ),
    mend="Gap the other rail as well, opposite the first.",
    fails="""\
plan     "Balloon"
booster  B1    15 V  5 A
district main  from B1  trips 4 A
reverser R1    in main
segment  lead  stop -> T1.points                   90 cm
turnout  T1    left  number 6  dead-frog
segment  neck  T1.through -> A                     60 cm
segment  loop  A -> T1.diverging                   3 m
bond     T1    closure rails to stock rails
gap      A     left rail
gap      T1.diverging  both rails
feeder   main -> lead
feeder   main -> neck
feeder   R1 -> loop
""",
    passes="""\
plan     "Balloon"
booster  B1    15 V  5 A
district main  from B1  trips 4 A
reverser R1    in main
segment  lead  stop -> T1.points                   90 cm
turnout  T1    left  number 6  dead-frog
segment  neck  T1.through -> A                     60 cm
segment  loop  A -> T1.diverging                   3 m
bond     T1    closure rails to stock rails
gap      A     both rails
gap      T1.diverging  both rails
feeder   main -> lead
feeder   main -> neck
feeder   R1 -> loop
""",
)
RULES = (RULE,)
