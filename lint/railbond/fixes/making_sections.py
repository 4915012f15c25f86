"""The ways to make a section, in words and edits: with the cuts and the reverser that a plan has, or with new ones."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator

from railbond.circuit.effort import is_scarce
from railbond.circuit.facts import Facts
from railbond.findings import Fix
from railbond.layout.order import supplies_by_name
from trackplan.edit import Edit
from trackplan.record import NamedTuple

from .fix_edits import places_of
from .moved_cuts import MovedCut, with_cuts_moved
from .moved_reverser import moved_here
from .reversers import Reversing, reverse
from .room_for_trains import holds_nowhere
from .section import Section

A_REVERSER = 2
"""Lines that a reverser is worth: nobody buys a second one while the first feeds nothing that turns."""


class SectionFix(NamedTuple):
    """A section as a fix, and whether it takes a new reverser."""

    fix: Fix
    is_new: bool

    @property
    def edits(self) -> tuple[Edit, ...]:
        return self.fix.edits


def ways_to_make(facts: Facts, section: Section, taken: Collection[str] = ()) -> list[Fix]:
    """The section with the plan's own cuts and reverser moved, where it has some that nothing would need any more, and
    with new ones; that first which changes fewer lines. Reversers that are `taken` are for others. Empty where there is
    none."""
    new = reverse(facts, section, taken)
    made = [new]
    if new and new.is_new and facts.with_fixes and not is_scarce():
        made += [moved_here(facts, section, name) for name in _freed(facts, new, taken)[:1]]
    ways = [way for one in reversed(made) if one for way in with_cuts(facts, section, one)]
    ways.sort(key=lambda way: lines_changed(facts, way.edits) + A_REVERSER * way.is_new)
    return [way.fix for way in (ways[:1] + ways[-1:])[: len(ways)]]


def _freed(facts: Facts, new: Reversing, taken: Collection[str]) -> list[str]:
    """The reversers of the plan that nothing needs once the section is made."""
    names = [name for name, one in supplies_by_name(facts.layout) if one.kind == "reverser" and name not in taken]
    tried = new.tried(facts) if names else None
    needed = tried.turning.needed_reversers() if tried else set(names)
    return [name for name in names if name not in needed]


def with_cuts(facts: Facts, section: Section, made: Reversing) -> Iterator[SectionFix]:
    """A section with cuts of the plan moved, where some would part nothing any more; and with new ones alone. Nothing
    where its edits cannot be made."""
    compared = facts.with_fixes and not is_scarce()
    changed = with_cuts_moved(facts, made) if compared else (made.edits, [])
    if changed is None:
        return
    edits, moved = changed
    if moved:
        yield SectionFix(_fix(facts, section, made, edits, moved), made.is_new)
    yield SectionFix(_fix(facts, section, made, made.edits, []), made.is_new)


def lines_changed(facts: Facts, edits: Iterable[Edit]) -> int:
    """How many lines of the text some edits add, change or take out."""
    added = [edit for edit in edits if edit.line]
    return len(added) + len({(e.at.path, facts.sources[e.at.path].line_of(e.at.start)) for e in edits if not e.line})


def _fix(facts: Facts, section: Section, made: Reversing, edits: tuple[Edit, ...], moved: list[MovedCut]) -> Fix:
    track = listed(list(dict.fromkeys(part[0] for part in section.parts)))
    elsewhere = {one.edit.says for one in moved}
    gaps = places_of(cut for cut in made.cuts if cut.says not in elsewhere)
    jobs = [f"move the cut at {one.gap.place} to {one.there}" for one in moved]
    jobs += [f"gap its ends ({gaps})"] if gaps else []
    cut = f"{listed(jobs)} and " if jobs else "its gaps are cut already; "
    feed = f"an auto-reverser, {made.name}" if made.is_new else f"{made.name}, and nothing else"
    words = (
        f"make {track} ({section.length:g} m) a reversing section: {cut}feed it from {feed}. {_trains(facts, section)}"
    )
    return Fix(words, edits, plain=False, changes=f"the auto-reverser {made.name} feeds {track} then")


def listed(names: list[str]) -> str:
    """`A, B and C`."""
    return " and ".join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else names)


def _trains(facts: Facts, section: Section) -> str:
    """The section's length beside that of the longest train."""
    longest = max(facts.layout.trains, key=lambda train: train.length, default=None)
    if longest is None:
        return "It must be longer than the longest train"
    if section.length < longest.length:
        known = facts.with_fixes and not is_scarce() and holds_nowhere(facts)
        why = "no place of this track holds it (all were tried). Lengthen it" if known else "lengthen it"
        return f"It is shorter than {longest.name}, {longest.length.text}: {why}, or run shorter trains"
    return f"It is long enough for {longest.name}, {longest.length.text}"
