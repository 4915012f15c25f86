"""All rails of the picture as SVG, and the colored bands of the districts below them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from html import escape

from railbond.circuit.facts import Facts
from railbond.circuit.keeping import once
from railbond.layout.model import Wire

from .metalwork import Metalwork
from .pits import PitWork
from .scene import Scene
from .strokes import Cuts, Stroke, on_link, on_stretch

SHORT = 8.0
"""In a link no longer than this there is no room for a cut, which the two pieces show at their own ends instead."""

CORED = ("two", "turns-one", "turns-two", "either", "unit", "short")
"""Inks that have a pattern along the middle of the rail."""


def strokes(facts: Facts, scene: Scene, setting: Mapping[str, str]) -> Iterator[Stroke]:
    """Every rail of the picture."""
    layout = facts.layout
    long = [link for link in scene.links if link[2].length > SHORT]
    cuts, apart = Cuts(layout), Cuts(layout, [end for link in long for end in link[:2]])
    for name, stretch in scene.stretches.items():
        yield from on_stretch(layout.pieces[name], stretch, cuts)
    for name in scene.cells:
        work = scene.works[name]
        if isinstance(work, Metalwork | PitWork):
            yield from work.strokes(apart)
        if isinstance(work, PitWork):
            yield from work.bridge_strokes(setting.get(name))
    for link in scene.links:
        yield from on_link(layout, *link, cuts, whole=link[2].length <= SHORT)


def rails(facts: Facts, scene: Scene, ink: list[str], setting: Mapping[str, str], live: bool = False) -> Iterator[str]:
    """The rails, those of one piece together; frogs last, on top of the rails that run through them.

    With `live`, each says which conductor it is and how it lies in each position, for a page that throws points.
    """
    drawn = list(strokes(facts, scene, setting))
    for stroke in sorted(drawn, key=lambda one: ("rail", "plastic", "frog").index(one.kind)):
        yield from painted(facts, stroke, ink, setting, live)


def painted(
    facts: Facts, stroke: Stroke, ink: list[str], setting: Mapping[str, str], live: bool = False
) -> Iterator[str]:
    """A rail in the ink of what it carries, and the pattern along its middle."""
    if stroke.metal < 0:
        yield f'<path class="plastic" d="{stroke.path}"/>'
        return
    conductor = facts.wiring.metal(stroke.piece, stroke.metal)
    name = ink[conductor]
    shut = not stroke.away or setting.get(stroke.piece) in stroke.shut
    path = stroke.path if shut else stroke.away
    data = _data(stroke, conductor) if live else ""
    yield f'<path class="{stroke.kind} {name}" d="{path}"{data}/>'
    if live or name in CORED:
        core = f'{data} data-core=""' if live else ""
        yield f'<path class="core {stroke.kind}-core {name}" d="{path}"{core}/>'


def _data(stroke: Stroke, conductor: int) -> str:
    lies = (
        f' data-shut="{" ".join(stroke.shut)}" data-d="{stroke.path}" data-away="{stroke.away}"' if stroke.away else ""
    )
    return f' data-c="{conductor}" data-p="{escape(stroke.piece)}" data-kind="{stroke.kind}"{lies}'


def bands(facts: Facts, scene: Scene, tint: Mapping[str, int]) -> Iterator[str]:
    """A broad band below each piece in the tint of the district, block or reverser that feeds it."""
    for name, stretch in scene.stretches.items():
        if number := tint.get(supply_of(facts, name)):
            path = stretch.course.path(stretch.start, stretch.stop)
            yield f'<path class="band tint{number}" d="{path}"/>'
    for name, cell in scene.cells.items():
        for end in () if cell.tall else cell.ends.values():
            if number := tint.get(supply_of(facts, name)):
                yield f'<path class="band tint{number}" d="M{_xy(cell.at)}L{_xy(end)}"/>'
    for pit in (work for work in scene.works.values() if isinstance(work, PitWork)):
        for name in pit.cell.ends:
            if number := tint.get(supply_of(facts, pit.piece.name, name)):
                course = pit.course(name)
                yield f'<path class="band tint{number}" d="{course.path(0, course.length)}"/>'
    for one, _, course in scene.links:
        if number := tint.get(supply_of(facts, one.piece)):
            yield f'<path class="band tint{number}" d="{course.path(0, course.length)}"/>'


def supply_of(facts: Facts, piece: str, end: str | None = None) -> str:
    """The supply that feeds most of a piece's rails, or of those at one of its ends, be it a block on a
    toggle; empty where none does."""
    if end is None:
        return supplies(facts)[piece]
    own = facts.layout.pieces[piece].template.ends[end]
    return _most(facts, piece, (own.left, own.right))


@once
def supplies(facts: Facts) -> dict[str, str]:
    """The supply that feeds most of each piece's rails."""
    pieces = facts.layout.pieces.items()
    return {name: _most(facts, name, range(len(one.template.metals))) for name, one in pieces}


@once
def toggled_blocks(facts: Facts) -> dict[int, list[str]]:
    """The blocks to which a toggle brings power, by the metal that hangs together with their wires."""
    found: dict[int, list[str]] = {}
    for name, supply in facts.layout.supplies.items():
        for leg in (0, 1) if supply.choices else ():
            found.setdefault(facts.turning.proof.component[facts.wiring.wire(Wire(name, leg))], []).append(name)
    return found


def _most(facts: Facts, piece: str, metals: Iterable[int]) -> str:
    first, toggled, proof = facts.wiring.first[piece], toggled_blocks(facts), facts.turning.proof
    found: dict[str, int] = {}
    for metal in metals:
        own = toggled.get(proof.component[first + metal])
        for name in own or [supply for supply, _ in sorted(facts.turning.supplies(first + metal))]:
            found[name] = found.get(name, 0) + 1
    return max(found, key=found.__getitem__, default="")


def _xy(point: tuple[float, float]) -> str:
    return f"{point[0]:.1f} {point[1]:.1f}"
