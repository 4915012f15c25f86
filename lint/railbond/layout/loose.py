"""What meets nothing: a joint's name that one end alone names, a turnout's end, an endplate without track."""

from __future__ import annotations

from collections.abc import Iterator

from trackplan.edit import add_line, replace
from trackplan.statements import Endplate, Turnout, where

from .ends import Mark
from .kinds import Kinds
from .model import EndAt
from .names import Names
from .track import Touch, Track

Loose = Touch | EndAt | Mark


def tell_loose(kinds: Kinds, names: Names, track: Track) -> None:
    """Tells every loose end once. A name that is nearly another loose one is taken for it."""
    waiting = {name: touch for name, touches in track.waiting.items() for touch in touches.values()
               if len(touches) == 1 and not names.silent(name)}
    loose: dict[str, Loose] = waiting | dict(_loose(kinds, names, track))
    for name, touch in waiting.items():
        if loose.pop(name, None):
            _tell_joint(name, touch, loose, names, track)
    for name, one in loose.items():
        if isinstance(one, EndAt):
            _tell_end(one, names)
        elif isinstance(one, Mark):
            _tell_endplate(name, names)


def _loose(kinds: Kinds, names: Names, track: Track) -> Iterator[tuple[str, Loose]]:
    """Turnouts' ends and endplates that nothing meets and no line left unread may have named."""
    for turnout in kinds.of(Turnout):
        piece = track.ends.pieces.get(names.whole(turnout.name))
        for end in piece.template.ends if piece else ():
            at = EndAt(piece.name, end)
            if at not in track.met and not names.silent(str(at)):
                yield str(at), at
    for plate in kinds.of(Endplate):
        name = names.whole(plate.name)
        if name not in track.edges and not names.silent(name):
            yield name, Mark("endplate", name)


def _tell_joint(name: str, touch: Touch, loose: dict[str, Loose], names: Names, track: Track) -> None:
    """Tells a joint's name that is named once, with the end or joint it was probably meant to meet."""
    message = f"only `{names.typed(str(touch.end))}` names the joint `{touch.word}`, and two ends must meet there"
    at = where(touch.statement, touch.word)
    near = names.near(name, loose)
    held = track.met.get(touch.end)
    meant = names.typed(near or str(held[0] if held else "stop"))
    if near:
        message += f"; did you mean `{meant}`?"
        other = loose.pop(near)
        track.meet(touch.end, other.end if isinstance(other, Touch) else other, touch.statement, touch.word, near)
    mend = f"write `{meant}` here" if near or held else "name it at another end too, or write `stop` for the end of track"
    names.fault("loose-end", touch.statement, touch.word, message, mend, (replace(at, meant),))


def _tell_end(end: EndAt, names: Names) -> None:
    turnout = names.defined[end.piece]
    typed = names.typed(str(end))
    names.fault(
        "loose-end", turnout, turnout.name,
        f"`{typed}` meets nothing: expected a segment or a joint that names it",
        f"if the track ends there, say so: `joint {typed} -> stop`",
        (add_line(turnout.at, f"joint {typed} -> stop"),), name=typed,
    )


def _tell_endplate(name: str, names: Names) -> None:
    plate = names.defined[name]
    message = f"no track reaches the endplate `{plate.name}`: expected a segment that starts or ends at it"
    names.fault("loose-end", plate, plate.name, message, f"name `{plate.name}` at the segment's end, or take it out")
