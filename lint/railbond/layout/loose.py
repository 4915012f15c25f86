"""What meets nothing: a joint that one end alone names, a turnout's end or the like, an endplate without track."""

from __future__ import annotations

from collections.abc import Iterator

from trackplan.pits import Table
from trackplan.statements import Endplate, SpecialWork

from .ends import EndMark
from .model import EndAt
from .names import Names, called, listed
from .symbols import SPECIAL, TABLES, SymbolTable
from .track import Touch, Track

Loose = dict[str, Touch | EndAt | EndMark]


def tell_loose(symbols: SymbolTable, names: Names, track: Track) -> None:
    """Tells what is loose. A joint's name that is nearly that of another loose end is taken for it."""
    joints = dict(_lone_joints(names, track))
    loose: Loose = joints | dict(_loose_ends(symbols, names, track)) | dict(_bare_endplates(symbols, names, track))
    for name, touch in joints.items():
        if loose.pop(name, None):
            _tell_joint(name, touch, loose, names, track)
    for turnout in symbols.among(*SPECIAL, *TABLES) if loose else ():
        if ends := [one for one in _ends_of(turnout, names, track) if str(one) in loose]:
            _tell_ends(turnout, [names.typed(str(end)) for end in ends], names)
    for plate in symbols.of(Endplate):
        if names.whole(plate.name) in loose:
            _tell_endplate(plate, names)


def _lone_joints(names: Names, track: Track) -> Iterator[tuple[str, Touch]]:
    for name, touches in track.waiting.items():
        if len(touches) == 1 and not names.silent(name):
            yield name, next(iter(touches.values()))


def _loose_ends(symbols: SymbolTable, names: Names, track: Track) -> Iterator[tuple[str, EndAt]]:
    """Ends of special trackwork that nothing meets, and that no line left unread may have named."""
    for turnout in symbols.among(*SPECIAL, *TABLES):
        for end in _ends_of(turnout, names, track):
            if end not in track.met and not names.silent(str(end)):
                yield str(end), end


def _ends_of(turnout: SpecialWork | Table, names: Names, track: Track) -> list[EndAt]:
    piece = track.ends.pieces.get(names.whole(turnout.name))
    return [track.ends.named[f"{piece.name}.{end}"] for end in piece.template.ends] if piece else []


def _bare_endplates(symbols: SymbolTable, names: Names, track: Track) -> Iterator[tuple[str, EndMark]]:
    for name in (names.whole(plate.name) for plate in symbols.of(Endplate)):
        if name not in track.edges and not names.silent(name):
            yield name, EndMark("endplate", name)


def _tell_joint(name: str, touch: Touch, loose: Loose, names: Names, track: Track) -> None:
    """Tells a joint that one end names, and joins it to what was probably meant."""
    typed, meant = names.typed(str(touch.end)), "stop"
    message = f"two ends must meet at the joint `{touch.word}`, and only `{typed}` names it"
    mend = "name it at the other end too; or, where the track ends, write `stop` here"
    if touch.end in track.met:
        meant = names.typed(str(track.met[touch.end][0]))
        message, mend = f"{message}; it already meets `{meant}`", f"write `{meant}` here"
    elif near := names.near(name, loose):
        meant, other = names.typed(near), loose.pop(near)
        message, mend = f"{message}; did you mean `{meant}`?", f"write `{meant}` here"
        target = other.end if isinstance(other, Touch) else other
        track.meet(touch.end, target, touch.statement, touch.word, near)
    from trackplan.amend import set_word

    edit = set_word(touch.statement, touch.word, meant)
    names.fault("loose-end", touch.statement, touch.word, message, mend, (edit,))


def _tell_ends(turnout: SpecialWork, ends: list[str], names: Names) -> None:
    """Tells the ends of a piece that meet nothing."""
    lines = [f"joint {end} -> stop" for end in ends]
    meets = "meets" if len(ends) == 1 else "meet"
    message = f"{listed(ends)} {meets} nothing: expected a segment or a joint at each end of {called(turnout)}"
    mend = f"if the track ends there, say so: {listed(lines)}"
    from trackplan.edit import add_line

    edit = add_line(turnout.at, "\n".join(lines))
    names.fault("loose-end", turnout, turnout.name, message, mend, (edit,))


def _tell_endplate(plate: Endplate, names: Names) -> None:
    message = f"no track reaches the endplate `{plate.name}`: expected a segment that starts or ends at it"
    names.fault("loose-end", plate, plate.name, message, f"name `{plate.name}` at that segment's end")
