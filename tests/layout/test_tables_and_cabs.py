"""What is told of faults in tables, contacts, cabs, common rails and lamps, and what is laid where there is none."""

from __future__ import annotations

import pytest

from layout.plans import faults, layout

PLAN = """\
booster B1 15 V 5 A
district main from B1
cab hand 12 V 1 A legs plus minus
cab foot 12 V 1 A
bus main -> P1 1 m
turntable TT 30 cm
approach-track TT.lead at 0 degrees
approach-track TT.stall at 170 degrees
transfer-table TB 30 cm
approach-track TB.shop at 20 cm
segment lead T1.points -> TT.lead 1 m
segment stall TT.stall -> stop 1 m
segment shop TB.shop -> stop 1 m
turnout T1 left dead-frog
segment spur T1.through -> stop 1 m
segment siding T1.diverging -> stop 1 m
"""

# Lines that are added to the plan, then the rule and the words that it points at, then what it says.
CASES = [
    ("approach-track TT.x at 20 cm", "impossible", "approach-track TT.x at 20 cm", "expected an angle"),
    (
        "approach-track TB.x at 20 degrees",
        "impossible",
        "approach-track TB.x at 20 degrees",
        "a distance along the pit",
    ),
    ("approach-track TT.x at 0.2 degrees", "impossible", "approach-track TT.x at 0.2 degrees", "cannot both come to"),
    ("approach-track TB.x at 20 cm", "impossible", "approach-track TB.x at 20 cm", "at the same place"),
    ("approach-track TT.lead at 40 degrees", "impossible", "approach-track TT.lead at 40 degrees", "already has its"),
    ("approach-track TT.bridge at 40 degrees", "impossible", "approach-track TT.bridge at 40 degrees", "bridge itself"),
    ("approach-track lead at 40 degrees", "impossible", "lead", "expected both names, such as `TT.lead`"),
    ("approach-track TX.lead at 40 degrees", "unknown-name", "TX", "turntable or transfer table"),
    ("approach-track TT.fuel at 40 degrees", "loose-end", "TT", "`TT.fuel` meets nothing"),
    ("gap TT.lead both rails", "impossible", "TT.lead", "the pit parts the bridge"),
    ("feeder main -> TT", "impossible", "TT", "expected `TT.bridge.left` or `TT.bridge.right`"),
    ("feeder main.red -> TT.bridge", "impossible", "TT.bridge", "expected `feeder main -> TT.bridge`"),
    ("feeder main -> TT.bridge at 20 cm", "impossible", "20 cm", "no places to count"),
    ("feeder main -> TT.bridge split at 172 degrees", None, "", ""),
    ("feeder main -> TT.bridge split at 350.2 degrees", "impossible", "350.2 degrees", "the bridge stands just there"),
    ("feeder main -> TB.bridge split at 20 degrees", "impossible", "20 degrees", "is never turned"),
    ("feeder main -> lead split at 20 degrees", "impossible", "20 degrees", "`lead` does not turn"),
    ("feeder main -> lead through contacts of T1 divrging", "unknown-name", "divrging", "did you mean `diverging`?"),
    ("feeder main -> lead through contacts of TT stall", None, "", ""),
    ("feeder main -> lead through contacts of TT stall-turned", None, "", ""),
    ("feeder main -> lead through contacts of T9 through", "unknown-name", "T9", "no turnout is called `T9`"),
    ("feeder main -> lead through contacts of lead through", "unknown-name", "lead", "is a segment, not a turnout"),
    ("block b in hand or man", "unknown-name", "man", "no district or cab is called `man`; did you mean `main`?"),
    ("reverser R in hand", "unknown-name", "hand", "`hand` is a cab, not a district"),
    ("common black of main foot", None, "", ""),
    ("common black of main main", "impossible", "main", "needs two supplies"),
    ("common blck of main foot", "unknown-name", "blck", "did you mean `black`?"),
    ("common black of main hand", "unknown-name", "black", "its legs are `plus` and `minus`"),
    ("common black of main P1", "impossible", "P1", "is a bus terminal"),
    ("lamp stall.finish 20 mA", None, "", ""),
    ("lamp lead.finish 20 mA", "impossible", "lead.finish", "no buffer stop"),
    ("lamp stall.finsh 20 mA", "unknown-name", "stall.finsh", "did you mean `stall.finish`?"),
    ("lamp stall.finish 20 mA\nlamp stall.finish 20 mA", "impossible", "stall.finish", "already told"),
]


@pytest.mark.parametrize(("lines", "rule", "at", "message"), CASES, ids=[one[0] for one in CASES])
def test_a_fault_is_told_alone_and_in_plain_words(lines: str, rule: str | None, at: str, message: str) -> None:
    found = faults(f"{PLAN}{lines}\n")
    if rule is None:
        assert not found
        return
    assert [(one.rule, one.at) for one in found] == [(rule, at)], found
    assert message in found[0].message


def test_the_halves_of_a_split_ring() -> None:
    """The head at 0 degrees is in the half turn that follows 350; the head at 170 is just before its end."""
    drops = layout(f"{PLAN}feeder main -> TT.bridge split at 340 degrees\n").drops
    assert [(drop.wire.leg, drop.metal, drop.when) for drop in drops] == [
        (0, 0, ("TT", ("lead", "stall-turned"))), (1, 1, ("TT", ("lead", "stall-turned"))),
        (1, 0, ("TT", ("stall", "lead-turned"))), (0, 1, ("TT", ("stall", "lead-turned"))),
    ]  # fmt: skip


def test_contacts_at_a_track_hold_with_either_end_of_the_bridge_there() -> None:
    drops = layout(f"{PLAN}feeder main -> spur through contacts of TT stall\n").drops
    assert {drop.when for drop in drops} == {("TT", ("stall", "stall-turned"))}


def test_a_toggle_connects_a_block_to_one_of_several_supplies() -> None:
    supply = layout(f"{PLAN}block b in foot or main\n").supplies["b"]
    assert (supply.kind, supply.legs, supply.choices) == ("block", ("red", "black"), ("foot", "main"))


def test_a_lamp_is_a_load_at_its_end() -> None:
    ((end, lamp),) = layout(f"{PLAN}lamp stall.finish 20 mA\n").lamps.items()
    assert (str(end), float(lamp.current)) == ("stall.finish", pytest.approx(0.02))
