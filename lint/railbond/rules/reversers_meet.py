"""Two reversers' sections with nothing but a gap between them."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.claims import feeds
from railbond.circuit.facts import Facts
from railbond.circuit.signed_graph import Part, Seam
from railbond.findings import Claim, Fix, Found, Step
from railbond.layout.order import supplies_by_name
from trackplan.amend import add_clause
from trackplan.edit import Edit, add_line
from trackplan.statements import Feeder, Gap

from .rule import Rule


def find(facts: Facts) -> Iterator[Found]:
    """One finding for each seam with a gapped rail and another reverser on either side."""
    for seam in (one for one in facts.turning.seams if any(one.gapped)):
        names = [_reversers(facts, seam, side) for side in (0, 1)]
        if names[0] and names[1] and not names[0] & names[1]:
            yield _finding(facts, seam, min(names[0]), min(names[1]))
    yield from _at_tables(facts)


def _at_tables(facts: Facts) -> Iterator[Found]:
    """One finding for each table whose bridge and one of whose tracks have reversers of their own."""
    told: set[str] = set()
    for bridge, track in facts.turning.bridge_passes():
        one, other = (_of_rails(facts, (rail,)) for rail in (bridge, track))
        table = facts.piece_of(bridge)
        if one and other and not one & other and table not in told:
            from railbond.fixes.bridge_fixes import fixed_bridge

            told.add(table)
            piece, pair = facts.layout.pieces[table], (min(one), min(other))
            fix = fixed_bridge(facts, piece)
            yield Found(
                piece.statement.at,
                f"{pair[0]} feeds the bridge of {table} and {pair[1]} a track that it comes to: a wheel between them "
                "asks both reversers to turn, each answers the other, and they chatter or trip.",
                (Step(piece.statement.at, f"{facts.graph.names[bridge]} comes to {facts.graph.names[track]}"),),
                "", (fix,) if fix else (), (table, *pair),
            )  # fmt: skip


def _reversers(facts: Facts, seam: Seam, side: int) -> frozenset[str]:
    return _of_rails(facts, tuple(rails[side] for rails in seam.rails))


def _of_rails(facts: Facts, rails: tuple[int, ...]) -> frozenset[str]:
    found = (facts.turning.supplies(rail) for rail in rails)
    return frozenset(name for supplies in found for name, kind in supplies if kind == "reverser")


def _finding(facts: Facts, seam: Seam, one: str, other: str) -> Found:
    at = seam.meeting.at if seam.meeting else facts.layout.pieces[seam.one[0]].statement.at
    fix = _between(facts, seam)
    return Found(
        at,
        f"the sections of {one} and {other} meet at one gap: a wheel there asks both reversers to turn, each "
        "answers the other, and they chatter or trip.",
        (Step(at, f"{one} feeds one side of the gap, {other} the other"),),
        "",
        (fix,) if fix else (),
        (seam.one[0], seam.other[0], one, other),
        claims=_claims(facts, seam, one, other),
    )


def _claims(facts: Facts, seam: Seam, one: str, other: str) -> tuple[Claim, ...]:
    """Each of the two feeds a rail on its side."""
    sides = ((one, [pair[0] for pair in seam.rails]), (other, [pair[1] for pair in seam.rails]))
    fed = ((name, next(rail for rail in rails if name in _of_rails(facts, (rail,)))) for name, rails in sides)
    return tuple(feeds(facts, rail, name) for name, rail in fed)


def _between(facts: Facts, seam: Seam) -> Fix | None:
    """A fixed section cut from one of the two, at the end that meets the other."""
    options = [made for part in (seam.one, seam.other) if (made := _fixed_stretch(facts, seam, part))]
    if not options:
        return None
    _, edits, name, length = max(options, key=lambda one: one[0])
    words = (
        f"gap both rails of {name} again, {length} from this gap, and feed the stretch between from a plain district"
    )
    changes = f"a fixed section of {length} is cut from {name}; the reversing section becomes that much shorter"
    return Fix(words, edits, plain=False, changes=changes)


def _fixed_stretch(facts: Facts, seam: Seam, part: Part) -> tuple[float, tuple[Edit, ...], str, str] | None:
    """A quarter of an uncut segment beside the seam, short of its first drop, as (meters, edits, name, length)."""
    from railbond.fixes.feeding import usual_size
    from railbond.fixes.fix_edits import beside, gap_line, length_words, local

    piece = facts.layout.pieces[part[0]]
    district = next((name for name, one in supplies_by_name(facts.layout) if one.kind in ("district", "plug")), None)
    if not piece.template.is_plain or piece.template.links or seam.meeting is None or district is None:
        return None
    length = piece.template.length
    at_start = (seam.meeting.one if seam.one == part else seam.meeting.other).end == "start"
    places = [drop.place for drop in facts.layout.drops if drop.piece == piece.name and drop.place is not None]
    free = min([place if at_start else length - place for place in places] or [length / 2])
    cut = min(length / 4, free / 2)
    offset, middle = (cut, cut / 2) if at_start else (length - cut, length - cut / 2)
    name, near = local(piece), piece.statement.at
    edits = [
        gap_line(beside(facts, Gap, near), f"{name} at {length_words(offset)}", "both rails"),
        add_line(
            beside(facts, Feeder, near),
            f"feeder {district.rpartition('.')[2]} -> {name}  at {length_words(middle)}{usual_size(facts, district)}",
        ),
        *_placed(facts, piece.name, length),
    ]
    return cut, tuple(edits), piece.name, length_words(cut)


def _placed(facts: Facts, name: str, length: float) -> list[Edit]:
    """Feeders to the middle of a segment, which will now be cut, with the middle said."""
    from railbond.fixes.fix_edits import length_words

    here = (drop.statement for drop in facts.layout.drops if drop.piece == name)
    feeders = {one.at: one for one in here if one.place is None}
    return [add_clause(one, "place", f"at {length_words(length / 2)}") for one in feeders.values()]


RULE = Rule(
    name="reversers-meet",
    level="error",
    happens="short",
    turn=9,
    cause=True,
    find=find,
    when="there is a reverser",
    of_graph="proof",
    summary="Two reversers' sections meet at one gap.",
    railroad=(
        "An auto-reverser turns when a wheel shorts it against its neighbor. Two that meet turn against each "
        "other: they chatter until one of them or the booster gives up, and the train stands on the gap."
    ),
    meter="By eye: follow the wires of the feeders on both sides of the gap. Both come from a reverser.",
    mend="Put a fixed section between the two, fed by a plain district and gapped on both rails at both ends.",
    fails="""\
plan     "Two balloons"
booster  B1    15 V  5 A
district main  from B1  trips 4 A
reverser R1    in main
reverser R2    in main
segment  stub1 stop -> T1.points            60 cm
turnout  T1    left   number 6  dead-frog
segment  loop1 T1.through -> A              3 m
segment  loop2 A -> T2.through              3 m
segment  back1 T1.diverging -> B            1 m
segment  mid   B -> T2.diverging            1 m
turnout  T2    right  number 6  dead-frog
segment  stub2 T2.points -> stop            60 cm
bond     T1    closure rails to stock rails
bond     T2    closure rails to stock rails
gap      T1.through    both rails
gap      A             both rails
gap      T2.through    both rails
feeder   main -> stub1
feeder   R1 -> loop1
feeder   R2 -> loop2
feeder   main -> mid
accept   reverser-idle at R1 because "kept for the day the loop is turned"
accept   reverser-idle at R2 because "kept for the day the loop is turned"
""",
    passes="""\
plan     "Two balloons"
booster  B1    15 V  5 A
district main  from B1  trips 4 A
segment  stub1 stop -> T1.points            60 cm
turnout  T1    left   number 6  dead-frog
segment  loop1 T1.through -> A              3 m
segment  loop2 A -> T2.through              3 m
segment  back1 T1.diverging -> B            1 m
segment  mid   B -> T2.diverging            1 m
turnout  T2    right  number 6  dead-frog
segment  stub2 T2.points -> stop            60 cm
bond     T1    closure rails to stock rails
bond     T2    closure rails to stock rails
feeder   main -> stub1
feeder   main -> loop1
feeder   main -> loop2
feeder   main -> mid
""",
)
RULES = (RULE,)
