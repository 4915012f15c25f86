"""Where a metal wheel is wide enough to touch two rails at once: behind the point of a frog.

Both routes' frog rails begin behind the frog, a gauge line apart of d/n at the distance d from the point. A wheel that
runs on one of them covers its tread W beyond the gauge line; the near edge of the other rail's head lies d/n - h from
that line. So it touches both as long as d < n·(W + h), if they begin nearer to the point than that (derived). Before
the point the closure rails face each other across the flangeway, which the flange does not fill.
"""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.graph import Setting
from railbond.circuit.proof import Proof
from railbond.circuit.questions import opposed
from railbond.circuit.wiring import Wiring
from railbond.layout.model import EndAt
from railbond.layout.shape import Size
from trackplan.record import NamedTuple

from .geometry import Leg
from .standards import MICROMETERS_PER_INCH, Wheel, railhead
from .walking import WalkedTrack


class Bridge(NamedTuple):
    """A frog behind which a wheel's tread reaches from rail to rail for `length` micrometers along the track, in a
    setting in which the two carry opposite phases. `margin` is how far the tread stays clear of the other rail, in
    micrometers across the track; it is below nothing here."""

    piece: str
    size: Size
    length: int
    margin: int
    setting: Setting


def bridges(wiring: Wiring, proof: Proof, track: WalkedTrack, wheel: Wheel) -> Iterator[Bridge]:
    """Every turnout whose frog rails a wheel bridges and that differ in phase."""
    for name in wiring.first:
        piece = wiring.layout.pieces[name]
        rails = dict.fromkeys(_frog_rails(track, name)) if piece.template.positions else {}
        if len(rails) == 2:
            one, other = (wiring.metal(name, rail) for rail in rails)
            margin = clearance(track.size(name), wheel, track.code(name))
            setting = opposed(proof, one, other) if margin < 0 else None
            if setting is not None:
                size = track.size(name)
                yield Bridge(name, size, round(-margin * size.spread), margin, setting)


def clearance(size: Size, wheel: Wheel, rail_code: float) -> int:
    """How far a wheel on one frog rail stays from the other where they begin, micrometers; negative if it does not."""
    inches = size.clear / size.spread / MICROMETERS_PER_INCH - railhead(rail_code) - wheel.tread
    return round(inches * MICROMETERS_PER_INCH)


def dead_to_clear(size: Size, wheel: Wheel, rail_code: float) -> int:
    """The dead length, micrometers, from which on a wheel stays clear of the other frog rail."""
    needed = size.spread * (wheel.tread + railhead(rail_code)) * MICROMETERS_PER_INCH
    return round(needed * size.dead / size.clear)


def _frog_rails(track: WalkedTrack, name: str) -> Iterator[int]:
    """The rails that begin behind a piece's only frog, one for each route."""
    for end in track.layout.pieces[name].template.ends:
        for leg in track.legs.get(EndAt(name, end), ()):
            yield from _behind(track, leg)


def _behind(track: WalkedTrack, leg: Leg) -> Iterator[int]:
    """The metal behind the frog of a leg that comes from the points."""
    template = track.layout.pieces[leg.piece].template
    if template.ends[leg.enter].leaves:
        return
    for rail in (leg.left, leg.right):
        frogs = [at for at, one in enumerate(rail) if one.metal is None or template.metals[one.metal].frog]
        if len(frogs) == 1 and frogs[0] + 1 < len(rail) and rail[frogs[0] + 1].metal is not None:
            yield rail[frogs[0] + 1].metal  # type: ignore[misc]
