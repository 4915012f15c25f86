"""What explains what was seen, and what to try next, as text."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from railbond.bench.diagnosis import Cause
from railbond.bench.fault_search import FaultSearch, NextMove
from railbond.bench.information import Next
from railbond.bench.observation import Observation
from railbond.bench.prediction import NOTHING
from railbond.bench.removable import OFF, what_is_off

from .cautions import METER
from .diagnosis_words import ALIKE, SOUND, UNEXPLAINED, hands, mend, unasked
from .folding import folded, paragraph
from .places import Sources, counted, line_at
from .schedule import WIDTH, cautions, printed

SHOWN = 6


def told(search: FaultSearch, step: NextMove, sources: Sources, every: bool = False) -> str:
    """What is known, the likeliest first, and what to do next. `every` tells the whole list."""
    lines = [*cautions(METER[:2]), ""]
    if not search.observed:
        lines += ["Nothing is told yet: every mistake can be."]
    elif any(one.mistake is NOTHING for one in step.fitting):
        lines += [] if step.end or step.fitting[0].misses else ["Nothing that was read so far is wrong."]
    else:
        lines += _explanations(search, step, sources, every)
    return printed([*lines, "", *_then(search, step, sources)])


def _then(search: FaultSearch, step: NextMove, sources: Sources) -> list[str]:
    if step.again:
        return folded(again(search, step.again), WIDTH)
    if step.following:
        return asked(search, step.following, step)
    return list(_end(search, step, sources))


def _explanations(search: FaultSearch, step: NextMove, sources: Sources, every: bool) -> Iterator[str]:
    groups = hands(search, [one.mistake for one in step.fitting])
    misses = step.fitting[0].misses
    if misses:
        yield from folded(f"Nothing fits all that was seen; these leave out {counted(misses, 'observation')}:", WIDTH)
    elif not step.end and len(groups) == 1:
        yield "All that was seen points to this:"
    elif not step.end:
        yield f"{counted(len(groups), 'thing')} may be wrong, the likeliest first:"
    else:
        yield "It is this:" if step.end == "found" else "It is one of these:"
    shown = groups if every or step.end else groups[:SHOWN]
    for rank, (words, at) in enumerate(shown, 1):
        place = f"  ({line_at(at, sources)})" if at and at.path in sources else ""
        yield from folded(f"{rank:>2}. {words}{place}", WIDTH, rest="    ")
    if len(groups) > len(shown):
        yield f"    and {len(groups) - len(shown)} more (`--all` tells them)"


def asked(search: FaultSearch, following: Next, step: NextMove | None = None) -> list[str]:
    """The next probe, as instructions: what comes off and goes back, how points stand, and where the leads go."""
    now, name = set(search.off), search.diagnosis.points.name
    then = set(what_is_off(following.stand))
    lines = ["Next:"]
    for what, things in (("put back", now - then), ("take off", then - now)):
        lines += [line for one in sorted(things) for line in _item(f"{what} {_words(search, one)}")]
    lines += _item(setting(search, following.stand))
    lines += _item(f"probe between {name[following.one]} and {name[following.other]}")
    return [*lines, *(_meaning(search, following, step) if step else [])]


def begin(search: FaultSearch) -> str:
    """How the points stand before the first probe."""
    first = ", ".join(f"{switch} {at}" for switch, at in search.resolver.first.items())
    return paragraph(f"Begin with all points like this: {first}.", WIDTH) if first else ""


def _item(text: str) -> list[str]:
    return folded(f"- {text}", WIDTH, first="  ", rest="    ") if text else []


def _words(search: FaultSearch, name: str) -> str:
    return search.diagnosis.screws.removable[name].words


def _meaning(search: FaultSearch, following: Next, step: NextMove) -> list[str]:
    """What the plan says of the reading, and how the explanations are split by it."""
    if len(step.fitting) == 1:
        return folded("This is to make sure of what all else points to.", WIDTH)
    prediction, atom = search.diagnosis.prediction, search.diagnosis.metal.atom
    ends = atom[following.one], atom[following.other]
    beep = [one for one in step.fitting if prediction.effect(one.mistake, following.stand).joined(*ends)]
    right = prediction.effect(NOTHING, following.stand).joined(*ends)
    said = f"If all were right it would {'beep' if right else 'be silent'}."
    kinds = [len(hands(search, [one.mistake for one in some])) for some in (beep, _others(step.fitting, beep))]
    return folded(f"{said} A beep leaves {counted(kinds[0], 'thing')}, silence {kinds[1]}.", WIDTH)


def _others(causes: Iterable[Cause], some: list[Cause]) -> list[Cause]:
    there = {id(one) for one in some}
    return [one for one in causes if id(one) not in there]


def setting(search: FaultSearch, stand: object) -> str:
    """What to set, where it does not stand so already."""
    assert isinstance(stand, dict)
    first = search.resolver.first
    before = search.observed[-1].stand if search.observed else first
    plain = {switch: at for switch, at in stand.items() if not switch.startswith(OFF)}
    thrown = {switch: at for switch, at in plain.items() if before.get(switch, first.get(switch)) != at}
    if len(thrown) > 6 and thrown.items() <= first.items() and plain == first:
        return "set all points in their first position"
    words = ", ".join(f"{switch} {at}" for switch, at in thrown.items())
    rest = " (leave all others as they are)" if len(plain) > len(thrown) else ""
    return f"set {words}{rest}" if thrown else ""


def again(search: FaultSearch, doubtful: Observation) -> str:
    """A reading that is to be taken once more."""
    off = "".join(f", without {_words(search, name)}" for name in what_is_off(doubtful.stand))
    stands = _stands(doubtful)
    if search.recheck:
        what = f"a probe between {_ends(search, doubtful)}" if doubtful.kind == "beeps" else f"`{doubtful.text}`"
        right = "beeps or silent?" if doubtful.kind == "beeps" else "is it still so? (yes or no)"
        return f"First what was wrong before: {what}, with {_stands(doubtful)}: {right}"
    probed = doubtful.kind == "beeps"
    what = f"probe once more between {_ends(search, doubtful)}" if probed else f"look once more: `{doubtful.text}`"
    return f"One reading does not fit the rest: {what}, with {stands}{off}."


def _ends(search: FaultSearch, probed: Observation) -> str:
    return " and ".join(search.diagnosis.points.name[end] for end in probed.ends)


def _stands(asked: Observation) -> str:
    """How points stand for something that was asked."""
    stands = ", ".join(f"{switch} {at}" for switch, at in asked.stand.items() if not switch.startswith(OFF))
    return stands or "everything on"


def _end(search: FaultSearch, step: NextMove, sources: Sources) -> Iterator[str]:
    """What to do where no probe tells any more."""
    if step.end == "unexplained":
        yield from folded(UNEXPLAINED, WIDTH)
    elif step.end == "sound":
        yield from folded(SOUND, WIDTH)
        yield from (line for text in unasked(search, step) for line in folded(text, WIDTH, rest="  "))
    else:
        if step.end == "alike":
            yield from folded(ALIKE, WIDTH)
        for text in dict.fromkeys(mend(one.mistake) for one in step.fitting):
            yield from folded(f"Do: {text}.", WIDTH, rest="    ")
        wrong = next((one for one in search.observed if one.kind == "beeps"), None)
        if wrong and step.end == "found":
            yield "Then read again what was wrong."
    if search.off:
        yield "Put back what is still off:"
        yield from (line for name in search.off for line in _item(_words(search, name)))


def contradicted(found: Sequence[tuple[Observation, tuple[Observation, ...]]], sources: Sources) -> str:
    """Observations that cannot all be so."""
    lines = []
    for one, others in found:
        told_by = ", ".join(f"`{other.text}`" for other in others)
        place = f"{line_at(one.at, sources)}: " if one.at and one.at.path in sources else ""
        text = f"{place}`{one.text}` contradicts {told_by}: in one setting of the points both cannot be. Probe again."
        lines += folded(text, WIDTH)
    return printed(lines)
