"""One slip, one finding: slips as people make them, undone in the plan that a person would have written.

Each row is a sound plan, the slip in it, and the line at which it is told; what is right again is the sound plan.
"""

from __future__ import annotations

import pytest

from railbond.explaining.practice import LIKELY
from railbond.explaining.search import MOST_SLIPS
from railbond.explaining.slip import one_letter_off
from railbond.findings import Finding
from railbond.inspection import Inspection, inspect
from trackplan.edit import apply
from trackplan.gather import gather
from trackplan.span import Source

YARD = """\
plan     "Two blocks and a yard"
booster  B1    15 V  5 A
district main  from B1  trips 4 A
district yard  from B1  trips 3 A
bus      main -> P1  2 m    14 AWG
bus      P1 -> P2    2 m    14 AWG
bus      yard -> Y1  2 m    14 AWG
segment  west  stop -> A             1.5 m
segment  mid   A -> T1.points        1.5 m
turnout  T1    left  number 6  isolated-frog
segment  line  T1.through -> stop    1.5 m
segment  lead  T1.diverging -> Y     90 cm
segment  one   Y -> T2.points        40 cm
turnout  T2    right number 6  isolated-frog
segment  two   T2.through -> stop    90 cm
segment  three T2.diverging -> stop  90 cm
gap      Y     both rails
bond     T1    closure rails to stock rails
bond     T2    closure rails to stock rails
frog     T1    switched  through P2.red  diverging P2.black
frog     T2    switched  through Y1.black  diverging Y1.red
feeder   P1 -> west   22 AWG  20 cm
feeder   P1 -> mid    22 AWG  20 cm
feeder   P2 -> line   22 AWG  20 cm
feeder   P2 -> lead   22 AWG  20 cm
feeder   Y1 -> one    at 10 cm  22 AWG  20 cm
feeder   Y1 -> one    at 30 cm  22 AWG  20 cm
feeder   Y1 -> two    22 AWG  20 cm
feeder   Y1 -> three  22 AWG  20 cm
"""

LOOP = """\
plan     "Balloon loop"
booster  B1    15 V  5 A
district main  from B1  trips 4 A
reverser R1    in main
segment  lead  stop -> T1.points            2 m
turnout  T1    left  number 6  dead-frog
segment  loop  T1.through -> T1.diverging   3 m
gap      T1.through    both rails
gap      T1.diverging  both rails
bond     T1    closure rails to stock rails
feeder   main -> lead  at 40 cm
feeder   main -> lead  at 1.6 m
feeder   R1 -> loop    at 1.5 m
train    local  1.2 m
"""

BUS = "bus      P1 -> P2    2 m    14 AWG"
SLIPS = {
    "a drop's wires swapped": (YARD, "feeder   P2 -> line   22 AWG  20 cm", "{} crossed"),
    "a frog's contacts swapped": (YARD, "through P2.red  diverging P2.black", "through P2.black  diverging P2.red"),
    "a run crossed": (YARD, BUS, f"{BUS} crossed"),
    "a drop on the other supply's terminal": (YARD, "feeder   Y1 -> two ", "feeder   P2 -> two "),
    "a cut forgotten": (YARD, "gap      Y     both rails\n", ""),
    "a cut in one rail only": (YARD, "gap      Y     both rails", "gap      Y     left rail"),
    "a cut one piece too far": (YARD, "gap      Y     both rails", "gap      T2.points both rails"),
    "a segment against its arrow": (YARD, "Y -> T2.points ", "T2.points -> Y "),
    "a stray wire": (LOOP, "feeder   R1 -> loop    at 1.5 m\n", "{}feeder   R1.red -> lead.left\n"),
    "the reverser's wire on the district": (LOOP, "feeder   R1 -> loop ", "feeder   main -> loop "),
    "a drop forgotten": (LOOP, "feeder   R1 -> loop    at 1.5 m\n", ""),
}  # fmt: skip


def inspection(text: str) -> Inspection:
    return inspect(gather("plan", lambda _: text))


def bad(text: str) -> list[Finding]:
    return [one for one in inspection(text).findings if one.level != "note"]


def mended(text: str, finding: Finding) -> str:
    return apply(Source("plan", text), finding.fixes[0].edits)


@pytest.mark.parametrize("text", [YARD, LOOP])
def test_the_plans_are_sound(text: str) -> None:
    assert bad(text) == []


@pytest.mark.parametrize("name", SLIPS)
def test_a_slip_is_one_finding_and_its_first_mend_undoes_it(name: str) -> None:
    sound, right, wrong = SLIPS[name]
    faulty = sound.replace(right, wrong.format(right))
    assert faulty != sound
    (found,) = bad(faulty)
    assert bad(mended(faulty, found)) == []
    if right.strip() and wrong.strip():
        assert " ".join(mended(faulty, found).split()) == " ".join(sound.split())


def test_a_slip_is_told_at_its_own_line_with_all_that_it_does() -> None:
    stray = "feeder   R1.red -> lead.left"
    (found,) = bad(LOOP + stray)
    assert LOOP[: found.at.start] + stray == LOOP + stray
    assert {other.rule for other in found.also} == {"reversing-without-reverser", "opposed-at-gap"}
    assert all(other.fixes == () for other in found.also)


def test_a_short_is_told_without_what_is_only_so_once_it_is_mended() -> None:
    """A wheel that rolls over a gap shorts nothing while metal joins both sides already."""
    faulty = YARD.replace(BUS, f"{BUS} crossed")
    (found,) = bad(faulty)
    assert faulty[found.at.start : found.at.end] == f"{BUS} crossed"
    assert "the bus run to P2 is the wrong way round" in found.message
    assert not any("opposite legs" in other.message for other in found.also)


LONG_BUS = LOOP.replace(
    "feeder   R1 -> loop    at 1.5 m",
    "bus      R1 -> far   12 m  14 AWG\nbus      far -> L1    1 m  14 AWG\nfeeder   L1 -> loop    at 1.5 m",
)


@pytest.mark.parametrize(
    ("right", "wrong"),
    [("bus      R1 -> far ", "bus      main -> far "), ("at 1.5 m", "at 1.5 m\nfeeder   main -> loop  at 900 mm")],
)
def test_a_finding_is_as_bad_as_the_worst_that_its_slip_explains(right: str, wrong: str) -> None:
    """A bus that is long for its signal is a note, and stands at the very line whose slip shorts the supply."""
    assert bad(LONG_BUS) == []
    faulty = LONG_BUS.replace(right, wrong)
    raw = inspect(gather("plan", lambda _: faulty), with_fixes=False).findings
    assert "error" in {one.level for one in raw}
    assert "error" in {one.level for one in bad(faulty)}
    assert "twist its wires" not in bad(faulty)[0].message


def test_the_slip_is_named_where_the_rule_does_not() -> None:
    (found,) = bad(YARD.replace("feeder   Y1 -> two ", "feeder   P2 -> two "))
    assert "One slip explains this: the wire to two hangs on P2 in place of Y1." in found.message


def test_two_slips_are_two_findings_each_with_its_own_mend() -> None:
    faulty = YARD.replace("feeder   P1 -> west   22 AWG  20 cm", "feeder   P1 -> west   22 AWG  20 cm crossed")
    faulty = faulty.replace("through Y1.black  diverging Y1.red", "through Y1.red  diverging Y1.black")
    found = bad(faulty)
    assert 2 == len(found) <= MOST_SLIPS
    assert len(bad(mended(faulty, found[0]))) == len(bad(mended(faulty, found[1]))) == 1


def test_what_is_only_so_after_a_mend_is_told_under_the_mend() -> None:
    """Without a single wire nothing is joined by one, and no reverser is at work."""
    bare = "".join(line for line in LOOP.splitlines(keepends=True) if not line.startswith(("feeder", "reverser")))
    for found in bad(bare):
        assert "a wire" not in " ".join((found.message, *(step.text for step in found.why)))
        assert "R1" not in found.message


def test_the_table_of_practice_orders_slips_as_people_make_them() -> None:
    """Common practice: swapped wires before a wire on another terminal, that before a forgotten cut, and hardly ever
    a pair of wires, or a cut, too many."""
    order = ["swapped", "terminal", "gap", "hand", "off"]
    weights = [LIKELY[kind].weight for kind in order]
    assert weights == sorted(weights, reverse=True)
    assert min(LIKELY, key=lambda kind: LIKELY[kind].weight) in ("off", "cut")


@pytest.mark.parametrize(
    ("typed", "meant"), [("T1", "T2"), ("P1", "P11"), ("yard", "yrad"), ("west", "wet"), ("bak", "back")]
)
def test_names_one_letter_off(typed: str, meant: str) -> None:
    assert list(one_letter_off(typed, [meant, "other", typed])) == [meant]


@pytest.mark.parametrize(("typed", "other"), [("T1", "T23"), ("west", "east-"), ("ab", "cd")])
def test_names_further_apart(typed: str, other: str) -> None:
    assert list(one_letter_off(typed, [other])) == []


SINGLES = """\
booster  B1    15 V  5 A
district main  from B1
segment  a     stop -> T1.points     1 m
turnout  T1    left  number 6  dead-frog
segment  b     T1.through -> stop    1 m
segment  c     T1.diverging -> stop  1 m
feeder   main -> a
feeder   main -> b
feeder   main.black -> c.left
feeder   main.red -> c.right
"""


def test_two_single_drops_that_are_swapped_are_swapped_back() -> None:
    """Not the arrow: it takes two pairs of wires, common practice has it, before an arrow is doubted."""
    (short,) = [one for one in inspect(gather("p", lambda path: SINGLES)).findings if one.level == "error"]
    assert short.message.endswith("the two wires to c are swapped.")
    mended = apply(Source("p", SINGLES), short.fixes[0].edits)
    assert "main.red -> c.left" in mended and "main.black -> c.right" in mended


def test_what_only_shows_elsewhere_is_not_called_wrong_there() -> None:
    """The drops beside a crossed bus are right: what is told of them is what they bring."""
    track = "segment a stop -> J 1 m\nsegment b J -> K 1 m\nsegment c K -> stop 1 m\n"
    wires = "bus main -> P1 2 m 14 AWG\nbus P1 -> P2 2 m 14 AWG crossed\n"
    drops = "feeder P1 -> a\nfeeder P2 -> b\nfeeder P2 -> c\n"
    (found,) = bad(f"booster B1 15 V 5 A\ndistrict main from B1\n{wires}{track}{drops}")
    assert found.message.startswith("the feeder to a brings one leg to metal that already carries the other.")
    assert "the bus run to P2 is crossed" in found.message
