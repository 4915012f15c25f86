"""A plan with its names resolved: what is joined to what, where it is cut, and which wires reach it.

Names are whole (`quarry.T1` for T1 of the module quarry). Every thing keeps the statement that made it.
"""

from __future__ import annotations

from railbond.findings import Step
from trackplan.record import NamedTuple
from trackplan.span import Span
from trackplan.statements import (
    Accept,
    Block,
    Booster,
    Bus,
    Cab,
    Common,
    District,
    Endplate,
    Engine,
    Feeder,
    FrogAutomatic,
    FrogFromStockRails,
    FrogSwitched,
    FrogUnpowered,
    Gap,
    Joint,
    Lamp,
    Limit,
    Rails,
    Reverser,
    Solder,
    Statement,
    Trackwork,
    Train,
)
from trackplan.typed import TYPE_CHECKING, Literal

from .template import Frog, Side, Template, frog_names

if TYPE_CHECKING:
    from trackplan.edit import Edit


class EndAt(NamedTuple):
    """An end of a piece: `EndAt("T1", "points")`."""

    piece: str
    end: str

    def __str__(self) -> str:
        return f"{self.piece}.{self.end}"


class Piece(NamedTuple):
    """A piece of trackwork with the template that its statement and its turnout work give it."""

    name: str
    statement: Trackwork
    template: Template
    work: tuple[Statement, ...] = ()


class Meeting(NamedTuple):
    """Two ends that meet: the left rail of `one`, looking out, meets the right rail of `other`.

    `gaps` holds the gap statement of each cut rail, by its side looking out of `one`. `at` is the statement
    that joins them, and `name` the joint's free name, if it has one.
    """

    one: EndAt
    other: EndAt
    at: Span
    name: str
    gaps: dict[Side, Gap]


class Supply(NamedTuple):
    """Where power comes from. A `plug` is a module's bus plug, fed by a neighbor not in this plan.

    `legs` names the two wires, the + leg first. A block has its district's phase; a reverser's floats. A `cab` is
    analog; its phase is the direction of travel. `choices` are the supplies to one of which a toggle connects a block,
    `detector` the block between a reverser and its district.
    """

    name: str
    kind: Literal["district", "block", "reverser", "plug", "cab"]
    legs: tuple[str, str]
    district: str | None
    booster: str | None
    statement: District | Cab | Block | Reverser | Bus | Feeder
    choices: tuple[str, ...] = ()
    detector: str = ""

    @property
    def hangs_on(self) -> frozenset[str]:
        """The supplies from which it has its power."""
        return frozenset((self.district or "", self.detector, *self.choices)) - {"", self.name}


class Wire(NamedTuple):
    """One leg (0 or 1) of a supply or a bus terminal."""

    name: str
    leg: int


class Run(NamedTuple):
    """A bus run: leg `leg` of `source` reaches the same leg of `terminal`, or the other one where crossed."""

    source: str
    terminal: str
    crossed: bool
    statement: Bus


class Drop(NamedTuple):
    """One wire soldered to one metal of a piece, `place` meters from a segment's start (None: no segment).

    `when` is a piece and those of its positions in which contacts let the wire have power (None: it always has).
    """

    wire: Wire
    piece: str
    metal: int
    place: float | None
    statement: Feeder
    when: tuple[str, tuple[str, ...]] | None = None


class CommonRail(NamedTuple):
    """Legs of several supplies that are one wire."""

    legs: tuple[Wire, ...]
    statement: Common


class FrogFeed(NamedTuple):
    """How frogs of a piece get their power: `contacts` has the wire after `through` at 0, that after `diverging` at 1.

    `name` is what the plan calls what is fed: the piece, or one of its frogs (`D1.2`). `frogs` numbers those that are
    fed in the template's list.

    `mover` is the piece whose points move the contacts (None: its own); which frog gets which wire when is told by
    the frog.
    """

    piece: str
    kind: Literal["switched", "stock rails", "automatic", "unpowered"]
    statement: FrogSwitched | FrogFromStockRails | FrogAutomatic | FrogUnpowered
    mover: str | None = None
    contacts: dict[int, Wire] = {}
    supply: str | None = None
    name: str = ""
    frogs: tuple[int, ...] = ()


class Edge(NamedTuple):
    """A module's edge. `end` is the piece's end that reaches it; looking out, the left rail must carry leg
    `left` (0 or 1) of an in-phase district, where the plan says so."""

    name: str
    end: EndAt | None
    left: int | None
    statement: Endplate


class Fault(NamedTuple):
    """Something wrong with the plan as a plan. `rule` is `unknown-name` and the like; `edits` the near mend.

    `why` names the lines that the fault is about besides its own, such as the one that has the name already. `lacks`
    says what it is that nothing of the name is.
    """

    rule: str
    at: Span
    message: str
    names: tuple[str, ...] = ()
    mend: str = ""
    edits: tuple[Edit, ...] = ()
    why: tuple[Step, ...] = ()
    lacks: str = ""


class Layout(NamedTuple):
    """The whole plan. Pieces and supplies keep the order in which the plan names them."""

    pieces: dict[str, Piece]
    meetings: list[Meeting]
    stops: list[EndAt]
    edges: dict[str, Edge]
    supplies: dict[str, Supply]
    terminals: dict[str, tuple[str, str]]
    runs: list[Run]
    drops: list[Drop]
    frogs: dict[str, FrogFeed]
    engines: list[Engine]
    trains: list[Train]
    limits: dict[str, Limit]
    acceptances: list[Accept]
    joints: list[Joint]
    scale: str | None
    faults: list[Fault]
    boosters: dict[str, Booster] = {}
    rails: Rails | None = None
    soldered: dict[EndAt, Solder] = {}
    commons: list[CommonRail] = []
    lamps: dict[EndAt, Lamp] = {}
    acceptable: dict[str, None] = {}
    desk: object = None
    """What it was built with, for `difference`."""

    @property
    def unwired(self) -> bool:
        """Whether there is track and not a single wire to it: nothing is wired yet."""
        return bool(self.pieces) and not (self.drops or self.frogs)

    def legs_of(self, name: str) -> tuple[str, str]:
        """What the two wires of a supply or a terminal are called, the first leg first."""
        return self.supplies[name].legs if name in self.supplies else self.terminals[name]

    def feeds(self, piece: str) -> list[FrogFeed]:
        """How the frogs of a piece are fed: one feed for all, or one for each that has one."""
        template, whole = self.pieces[piece].template, self.frogs.get(piece)
        if whole and len(whole.frogs) == len(template.frogs):
            return [whole]
        own = (piece, *(f"{piece}.{name}" for name in frog_names(template)))
        return [self.frogs[name] for name in own if name in self.frogs]

    def fed_frogs(self, feed: FrogFeed) -> list[Frog]:
        """The frogs that a feed is for."""
        frogs = self.pieces[feed.piece].template.frogs
        return [frogs[number] for number in feed.frogs]
