"""Plans for the pictures, and what they are made of."""

from __future__ import annotations

from railbond.circuit.facts import Facts
from trackplan.read import read
from trackplan.span import Source

POWER = "booster B1 15 V 5 A\ndistrict main from B1 trips 4 A\n"
LEFT = (
    POWER
    + """\
segment west stop -> T1.points 1 m
turnout T1 left number 6 isolated-frog
segment line T1.through -> stop 1 m
segment spur T1.diverging -> stop 1 m
feeder main -> west
feeder main -> line
feeder main -> spur
frog T1 switched from stock rails
"""
)
SIDING = (
    POWER
    + """\
plan "Siding & <more>"
segment west W -> T1.points 90 cm
turnout T1 left number 6 isolated-frog
segment middle T1.through -> T2.through 2.4 m
segment siding T1.diverging -> T2.diverging 2.4 m
turnout T2 right number 6 live-frog
segment east T2.points -> stop 60 cm
endplate W
gap T2.diverging frog rail
gap T2.through frog rail
gap siding at 50 cm both rails
feeder main -> west
feeder main -> middle
feeder main -> siding at 20 cm
feeder main.red -> T2.through.stock
"""
)
BALLOON = (
    POWER
    + """\
reverser R1 in main
segment lead stop -> T1.points 90 cm
turnout T1 left number 6 dead-frog
segment loop T1.through -> T1.diverging 4 m
gap T1.through both rails
gap T1.diverging both rails
feeder main -> lead
feeder R1 -> loop
"""
)
WYE = (
    POWER
    + """\
turnout A left number 6 dead-frog
turnout B right number 6 dead-frog
turnout C wye number 6 dead-frog
segment west stop -> A.points 1 m
segment base A.through -> B.through 2 m
segment east B.points -> stop 1 m
segment nw A.diverging -> C.right 1.5 m
segment ne B.diverging -> C.left 1.5 m
segment tail C.points -> stop 2 m
"""
)
CROSSOVER = (
    POWER
    + """\
segment n1 stop -> T1.through 1.5 m
segment n2 T1.points -> stop 1.5 m
segment s1 stop -> T2.points 1.5 m
segment s2 T2.through -> stop 1.5 m
turnout T1 left number 8 isolated-frog
turnout T2 left number 8 isolated-frog
joint T2.diverging -> T1.diverging
"""
)
OVER = (
    POWER
    + """\
turnout T1 left number 6 dead-frog
turnout T2 right number 6 dead-frog
segment low T1.through -> T2.diverging 1 m
segment high T1.diverging -> T2.through 1 m
segment round T2.points -> T1.points 4 m
"""
)
RING = POWER + "segment a J -> K 2 m\nsegment b K -> J 2 m\nfeeder main -> a\n"
LADDER = POWER + "segment lead stop -> T1.points 1 m\n" + "".join(
    f"turnout T{n} left number 6 isolated-frog\nsegment yard{n} T{n}.diverging -> stop 2 m\n"
    f"segment link{n} T{n}.through -> {f'T{n + 1}.points' if n < 5 else 'stop'} 30 cm\n"
    for n in range(1, 6)
)  # fmt: skip
PLANE = {
    "left": LEFT, "siding": SIDING, "balloon": BALLOON, "wye": WYE, "crossover": CROSSOVER,
    "ring": RING, "ladder": LADDER,
}  # fmt: skip


def facts(text: str) -> Facts:
    source = Source("plan", text)
    reading = read(source)
    return Facts(reading.statements, {"plan": source}, reading.broken)
