"""What a piece of trackwork is made of: metal, ties, passes and ends. The kinds are in `trackwork`.

A template speaks of one piece by itself. Its metals are numbered from 0; its *positions* are what its points can be
set to (none for plain track). The piece's *looking direction* is a segment's arrow, for a turnout from the points
to the frog, and for a crossing or slip from its ends 1 to its ends 2.
"""

from __future__ import annotations

from collections.abc import Mapping

from trackplan.quantities import Number
from trackplan.record import NamedTuple
from trackplan.span import Word
from trackplan.statements import Statement
from trackplan.typed import Literal

from .shape import Outline, Shape

Side = Literal["left", "right"]

OTHER_SIDE: Mapping[str, Side] = {"left": "right", "right": "left"}


class Impossible(ValueError):
    """What a plan asks of a piece that metal cannot do; the text is told to the user, at its word or number
    `part` if given."""

    def __init__(self, message: str, part: Word | Number | None = None) -> None:
        super().__init__(message)
        self.part = part


class Metal(NamedTuple):
    """A length of metal that is always one piece. `start` and `stop` are meters along a segment."""

    words: str
    frog: bool = False
    start: float = 0.0
    stop: float = 0.0


class Tie(NamedTuple):
    """Two metals joined: always where `when` is None, else in that position of the points.

    `build` tells what came with the piece (and moves with its frog) from a `bond` soldered on later and from
    the `touch` of a blade against its stock rail.
    """

    one: int
    other: int
    when: str | None
    kind: Literal["build", "bond", "touch"]


class Pass(NamedTuple):
    """A wheel rolls from one metal onto the other when the points stand for `route` (None: always)."""

    one: int
    other: int
    route: str | None


class End(NamedTuple):
    """One end of a piece. `left` and `right` are its rails looking outwards.

    `leaves` says that the looking direction goes out here; `routes` the positions in which a train passes
    (empty: all); `rails` which side a word such as `frog rail` means.
    """

    left: int
    right: int
    leaves: bool
    routes: tuple[str, ...] = ()
    rails: Mapping[str, Side] = {}
    part: int = 0

    def side(self, side: str) -> int:
        """The metal on that side, looking outwards."""
        return self.left if side == "left" else self.right


class Blade(NamedTuple):
    """A closure rail with its blade, the stock rail beside it, and the position in which it stands open."""

    closure: int
    stock: int
    open: str


class Frog(NamedTuple):
    """A metal frog: the rail whose polarity it wants in each position, and its frog rail there.

    `legs` tells which of the two wires of its contacts it gets in each position: 0 is the one that is named after
    `through`, 1 the one after `diverging`. So one pair of contacts can feed several frogs.
    """

    metal: int
    wants: Mapping[str, int]
    rails: Mapping[str, int]
    legs: Mapping[str, int] = {}


class Link(NamedTuple):
    """A place inside a piece, `offset` meters from its start, where rails (looking along it) are cut.

    It ties part `one` to part `other`; each has its rails as metals (left, right).
    """

    one: int
    other: int
    rails_one: tuple[int, int]
    rails_other: tuple[int, int]
    offset: float


class Expansion(NamedTuple):
    """What a statement stands for that lays several pieces: their statements, and the part's end that each of its own
    ends is."""

    statements: tuple[Statement, ...]
    ends: Mapping[str, str]


class Template(NamedTuple):
    """All that the rail graph needs to know of one piece.

    `aligned`: its positions are the routes of track without points of its own, and follow those of other points
    where its frogs are said to be switched with them. `bridge` is the left and the right rail of a table's bridge,
    which no end reaches; it is part 0. `headings` tells where a turntable's head end stands in each position, in
    degrees. `shape` is how the piece is built and lies.
    """

    metals: tuple[Metal, ...]
    ties: tuple[Tie, ...]
    passes: tuple[Pass, ...]
    ends: Mapping[str, End]
    positions: tuple[str, ...] = ()
    blades: tuple[Blade, ...] = ()
    frogs: tuple[Frog, ...] = ()
    parts: int = 1
    links: tuple[Link, ...] = ()
    aligned: bool = False
    bridge: tuple[int, int] | None = None
    headings: Mapping[str, float] = {}
    shape: Shape = Shape()

    @property
    def is_plain(self) -> bool:
        """Whether it is nothing but track from one end to another, on which places are counted."""
        return bool(self.length)

    @property
    def has_points(self) -> bool:
        """Whether it has points of its own, which contacts can move with."""
        return bool(self.positions) and not self.aligned and not self.bridge

    @property
    def outline(self) -> Outline:
        """Where a drawing has its ends. Unless its kind says so, those at which the looking direction comes in lie to
        the west, in the order in which the template names them."""
        if self.shape.outline:
            return self.shape.outline
        west = tuple(name for name, end in self.ends.items() if not end.leaves)
        east = tuple(name for name, end in self.ends.items() if end.leaves)
        few = max(len(west), len(east)) < 3
        return Outline(west, east, tuple(zip(west, east, strict=False)) if few else (), tall=not few)

    @property
    def length(self) -> float:
        """Meters along the piece by which places on it are counted; 0 where its rails have none. The last metal of a
        rail that is cut ends where the rail does."""
        return self.metals[-1].stop if self.metals else 0.0


def frog_names(template: Template) -> dict[str, int]:
    """What a plan calls the frogs of a piece, such as `1` in `D1.1`, each with its number in the template's list."""
    words = (template.metals[frog.metal].words for frog in template.frogs)
    return {word.removeprefix("frog ").replace(" ", "-"): number for number, word in enumerate(words)}


def rail_names(template: Template) -> dict[str, int]:
    """What a plan calls the rails of a piece without length: `through.frog` for the frog rail at that end, and for a
    rail that no end has a word for its own, such as `through-closure`. Of a table it is the bridge's two rails;
    those of its tracks are fed where the tracks are."""
    if template.bridge:
        return {"bridge.left": template.bridge[0], "bridge.right": template.bridge[1]}
    named = {
        f"{name}.{word.removesuffix(' rail')}": end.side(side)
        for name, end in template.ends.items()
        for word, side in end.rails.items()
    }
    others = ((index, metal) for index, metal in enumerate(template.metals) if not metal.frog)
    own = {metal.words.removesuffix(" rail").replace(" ", "-"): index for index, metal in others}
    return named | {words: index for words, index in own.items() if index not in named.values()}
