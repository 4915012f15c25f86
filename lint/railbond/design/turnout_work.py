"""What is cut and bonded at turnouts, and how each frog is fed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from railbond.circuit.facts import Facts
from railbond.circuit.signed_graph import Part
from railbond.fixes.fix_edits import gap_edits, local
from railbond.fixes.frog_feeds import frog_words, unit_lines
from railbond.layout.model import Piece
from trackplan.statements import ClosureBond, Cut

from .draft import WrittenLine
from .wishes import WiringWishes


def rebuilt(facts: Facts, wishes: WiringWishes) -> Iterator[WrittenLine]:
    """Live frogs cut and bonded, and closure rails bonded where only blades would feed them."""
    for piece in facts.layout.pieces.values():
        build = piece.template.shape.build
        if build == "live-frog":
            yield from _live(facts, piece, wishes)
        elif build == "dead-frog" and piece.template.blades and wishes.rebuild != "nothing" and not _bonded(piece):
            why = "else the rails behind its blades have power only where a blade touches its stock rail"
            yield WrittenLine(f"bond {local(piece)}  closure rails to stock rails", why, piece.name)


def _bonded(piece: Piece) -> bool:
    return any(isinstance(one, ClosureBond) for one in piece.work)


def _live(facts: Facts, piece: Piece, wishes: WiringWishes) -> Iterator[WrittenLine]:
    """A live frog parted from its closure rails, which take the polarity of the stock rails beside them."""
    name, cuts = local(piece), [str(one.what) for one in piece.work if isinstance(one, Cut)]
    around = "around frog" in cuts
    if not cuts and wishes.rebuild == "cuts":
        why = "its frog must be short and alone: the rails are cut on both sides of it, its jumpers stay"
        yield WrittenLine(f"cut {name}  around frog", why, piece.name)
        around = True
    elif not cuts and wishes.rebuild == "bonds":
        why = "its closure rails must not change polarity with the frog"
        yield WrittenLine(f"cut {name}  closure jumpers", why, piece.name)
    if wishes.rebuild != "nothing" and not _bonded(piece):
        why = "each closure rail takes the polarity of the stock rail beside it, so an open blade opposes nothing"
        yield WrittenLine(f"bond {name}  closure rails to stock rails", why, piece.name)
    if not around:
        yield from _frog_gaps(facts, piece)


def _frog_gaps(facts: Facts, piece: Piece) -> Iterator[WrittenLine]:
    for meeting in facts.layout.meetings:
        for at, mine in ((meeting.one, True), (meeting.other, False)):
            end = facts.wiring.end(at)
            side = end.rails.get("frog rail")
            if at.piece == piece.name and side:
                seen = side if mine else {"left": "right", "right": "left"}[side]
                for edit in gap_edits(facts, meeting, (seen,)):
                    yield WrittenLine(
                        edit.text, f"{piece.name}'s frog changes polarity; the rail beyond does not", piece.name
                    )


def fed_frogs(facts: Facts, wishes: WiringWishes, territory: Mapping[Part, str]) -> Iterator[WrittenLine]:
    """A feed for each metal frog that nothing reaches: contacts or units; none where all engines roll over it."""
    spans = _spans(facts)
    for name in dict.fromkeys(facts.graph.frogs.values()):
        piece = facts.layout.pieces[name]
        known = {frog for feed in facts.layout.feeds(name) for frog in feed.frogs}
        frogs = [
            frog for frog in range(len(piece.template.frogs)) if frog not in known and _is_dead(facts, piece, frog)
        ]
        if not frogs:
            continue
        if name in spans:
            words, why = f'unpowered because "{spans[name]}"', f"{spans[name]}: no contact and no unit is needed"
            yield from (WrittenLine(f"frog {one}  {words}", why, name) for one in frog_words(piece, frogs))
        elif reason := _unit_reason(piece, wishes):
            supply = territory.get((name, 0), "").rpartition(".")[2]
            yield from (WrittenLine(line, reason, name) for line in unit_lines(facts, piece, supply, frogs))
        else:
            why = "contacts that move with the points feed it from its own stock rails"
            lines = (f"frog {one}  switched from stock rails" for one in frog_words(piece, frogs))
            yield from (WrittenLine(line, why, name) for line in lines)


def _unit_reason(piece: Piece, wishes: WiringWishes) -> str:
    """Why a frog takes an automatic unit; empty where contacts do."""
    if piece.template.aligned or not piece.template.positions:
        return "an automatic unit turns the frog: no points of its own move contacts"
    if piece.template.shape.faced:
        return "an automatic unit turns the frog: its blades move without a throw"
    return "an automatic unit turns the frog, as asked for" if wishes.frogs == "units" else ""


def _is_dead(facts: Facts, piece: Piece, frog: int) -> bool:
    """Whether a frog stands alone and has no power but by the touch of a blade."""
    metal = facts.wiring.metal(piece.name, piece.template.frogs[frog].metal)
    return metal in facts.frog_units and not facts.untouched.reachable(metal)


def _spans(facts: Facts) -> dict[str, str]:
    """Why no engine needs the frogs of a piece fed, for those of which that is so."""
    from railbond.circuit.running.answers import running
    from railbond.circuit.running.choosing import choose

    run = running(facts)
    if not run.engines:
        return {}
    found = {}
    for choice in choose(run.ground, run.engines):
        piece = facts.layout.pieces[choice.piece]
        movable = piece.template.shape.build == "movable-frog"
        if choice.stall is None and not movable:
            dead = choice.dead / 1000
            found[choice.piece] = f"every engine picks up over more than its {dead:.0f} mm"
    return found
