"""Lamps across the rails of buffer stops: a load at the end of the track, which joins nothing."""

from __future__ import annotations

from railbond.findings import Step
from trackplan.statements import Lamp, where

from .ends import STOP, EndMark
from .model import EndAt
from .names import Names
from .symbols import SymbolTable
from .track import Track


def lamps_at(symbols: SymbolTable, names: Names, track: Track) -> dict[EndAt, Lamp]:
    """The lamp at each end of track; one where track goes on is told."""
    found: dict[EndAt, Lamp] = {}
    for lamp in symbols.of(Lamp):
        end = track.ends.target(lamp, lamp.end)
        if isinstance(end, EndMark):
            message = f"`{lamp.end}` is no end of one piece: expected one such as `siding.finish`"
            names.fault("impossible", lamp, lamp.end, message)
        elif end and not names.silent(str(end)):
            _place(lamp, end, found, names, track)
    return found


def _place(lamp: Lamp, end: EndAt, found: dict[EndAt, Lamp], names: Names, track: Track) -> None:
    met = track.met.get(end)
    if met and met[0] != STOP:
        why = (Step(where(met[1]), "this line leads the track on"),)
        message = f"no buffer stop is at `{lamp.end}`, where a train would run over the lamp: expected an end of track"
        names.fault("impossible", lamp, lamp.end, message, why=why)
    elif end in found:
        why = (Step(where(found[end]), "it is told here"),)
        message = f"the lamp at `{lamp.end}` is already told"
        names.fault("impossible", lamp, lamp.end, message, "take one of the two lines out", why=why)
    else:
        found[end] = lamp
