"""Tables in their pits: whose wires go where, what tint their tracks have, and where their names stand."""

from __future__ import annotations

import re
from math import cos, hypot, sin

from drawing.samples import POWER, facts
from railbond.faces.drawing.picture import PictureChoice, draw, rooms
from railbond.faces.drawing.pits import RING, PitWork
from railbond.faces.drawing.staging import stage
from railbond.faces.drawing.wires import soldered

TURNTABLE = (
    POWER
    + """\
turntable TT 30 cm
approach-track TT.lead at 0 degrees
approach-track TT.shed at 170 degrees
approach-track TT.coal at 200 degrees
segment lead stop -> TT.lead 1 m
segment shed TT.shed -> stop 40 cm
segment coal TT.coal -> stop 40 cm
feeder main -> lead
feeder main -> shed
feeder main -> TT.bridge split at 80 degrees
"""
)
TRANSFER = (
    POWER
    + """\
transfer-table TB 40 cm
approach-track TB.lead at 20 cm
approach-track TB.paint at 10 cm far-side
approach-track TB.store at 30 cm far-side
segment lead stop -> TB.lead 1 m
segment paint TB.paint -> stop 40 cm
segment store TB.store -> stop 40 cm
"""
)


def pit(text: str, name: str) -> PitWork:
    plan = facts(text)
    work = stage(plan.layout, rooms(plan)).works[name]
    assert isinstance(work, PitWork)
    return work


def test_a_split_ring_has_one_wire_at_each_half() -> None:
    """It is the ring that is soldered, not the bridge, which takes now the one leg and now the other from it."""
    plan = facts(TURNTABLE)
    scene = stage(plan.layout, rooms(plan))
    work = scene.works["TT"]
    assert isinstance(work, PitWork)
    at = {(drop.wire.leg, point) for drop in plan.layout.drops if (point := soldered(plan, scene, drop))
          and drop.piece == "TT"}  # fmt: skip
    assert sorted(leg for leg, _ in at) == [0, 1]
    (x, y), split = work.cell.at, work.heading(80)
    sides = set()
    for _, (u, v) in at:
        assert abs(hypot(u - x, v - y) - RING * work.radius) < 0.1
        assert abs(v - y) > 7 + 2.6  # clear of the bridge's rails, which lie level in its first position
        sides.add(cos(split) * (v - y) > sin(split) * (u - x))
    assert sides == {False, True}
    drawn = draw(plan, (), None, PictureChoice("", legend=False, listed=False))
    assert len(re.findall(r'class="wire [^"]*"', drawn)) == 6


def test_the_tracks_of_a_pit_have_their_district_s_tint() -> None:
    """As far as the pit's edge; that of a track which nothing feeds has none."""
    drawn = draw(facts(TURNTABLE), (), None, PictureChoice("", legend=False, listed=False))
    work = pit(TURNTABLE, "TT")
    banded = {
        name
        for name in work.places
        if re.search(rf'class="band tint1" d="M{work.rim(name)[0]:.1f} {work.rim(name)[1]:.1f}', drawn)
    }
    assert banded == {"lead", "shed"}


def test_a_table_s_name_stands_at_its_pit() -> None:
    for text, name in ((TURNTABLE, "TT"), (TRANSFER, "TB")):
        work = pit(text, name)
        drawn = draw(facts(text), (), None, PictureChoice("", legend=False, listed=False))
        found = re.search(rf'y="([\d.-]+)"[^>]*>{name}<', drawn)
        assert found
        edge = work.radius if work.round else work.half
        assert abs(float(found[1]) - work.cell.at[1]) < edge + 24
