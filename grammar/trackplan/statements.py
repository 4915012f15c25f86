"""What a plan can say: one frozen type for each kind of statement.

Every statement holds first `at`, its place in the file (from its first to past its last character, without
the comment). Names and quoted texts are `Word`s and numbers `Quantity`s; both know their place relative to
`at.start`, and `where` turns that into a place in the file. A quoted text is without its quotes, its place
with them. A part the plan leaves out is None.
"""

from __future__ import annotations

from .cabs import Cab as Cab
from .cabs import Common as Common
from .construction import Construction as Construction
from .metal import Lamp as Lamp
from .metal import Rails as Rails
from .metal import Solder as Solder
from .pits import ApproachTrack as ApproachTrack
from .pits import TransferTable as TransferTable
from .pits import Turntable as Turntable
from .quantities import Angle, Current, Length, Number, Quantity, Resistance, Voltage, WireSize
from .record import NamedTuple
from .running import Engine as Engine
from .running import Train as Train
from .span import Span, Word
from .special import ASSEMBLIES as ASSEMBLIES
from .special import Crossing as Crossing
from .special import Gauntlet as Gauntlet
from .special import Scissors as Scissors
from .special import Slip as Slip
from .special import SpecialWork as SpecialWork
from .special import Stub as Stub
from .special import ThreeWay as ThreeWay
from .special import Turnout as Turnout


class Plan(NamedTuple):
    at: Span
    title: Word


class Scale(NamedTuple):
    at: Span
    scale: Word


class Include(NamedTuple):
    """The statements of another file, its path relative to this one."""

    at: Span
    file: Word


class Module(NamedTuple):
    """Another plan, whose names are reached as `name.…` from this one; `owner` is who sees to it."""

    at: Span
    name: Word
    file: Word
    owner: Word | None = None


class Couple(NamedTuple):
    """Two endplates that meet."""

    at: Span
    one: Word
    other: Word


class AnyOrder(NamedTuple):
    """A wish: an order and orientation of `modules` between two others in which nothing is at fault."""

    at: Span
    modules: tuple[Word, ...]
    first: Word
    last: Word


class Booster(NamedTuple):
    """`resistance` is that of its output, in ohms."""

    at: Span
    name: Word
    voltage: Voltage
    current: Current
    resistance: Resistance | None = None


class District(NamedTuple):
    at: Span
    name: Word
    booster: Word
    trips: Current | None
    legs: tuple[Word, Word] | None


class Block(NamedTuple):
    """A detected section: its district's phase, wires of its own.

    In a cab it is what a toggle turns on and off. `others` are supplies to which a toggle connects it instead.
    """

    at: Span
    name: Word
    district: Word
    others: tuple[Word, ...] | None = None


class Reverser(NamedTuple):
    at: Span
    name: Word
    district: Word
    trips: Current | None


class Bus(NamedTuple):
    """A two-wire run; `crossed` (the word as typed) swaps the legs at its far end."""

    at: Span
    supply: Word
    terminal: Word
    length: Length | None
    size: WireSize | None
    crossed: Word | None


class Feeder(NamedTuple):
    """Two drops to a segment, or one drop where `supply` names a leg (`P1.red`) and `rail` a rail.

    `rail` is a segment (`west`), a segment's rail (`west.left`), a turnout's (`T1.through.stock`) or a table's
    bridge (`TT.bridge`). A bridge's split ring turns the polarity where its head end passes the angle `split`.
    `contacts` are a turnout and one of its positions: only while it stands so have the wires power.
    """

    at: Span
    supply: Word
    rail: Word
    place: Length | None
    size: WireSize | None
    length: Length | None
    crossed: Word | None
    split: Angle | None = None
    contacts: tuple[Word, Word] | None = None


class Segment(NamedTuple):
    """Plain track. Left and right are seen looking from `start` to `finish`."""

    at: Span
    name: Word
    start: Word
    finish: Word
    length: Length
    code: Number | None
    metal: Word | None = None


class Joint(NamedTuple):
    at: Span
    one: Word
    other: Word


class Gap(NamedTuple):
    """A cut at an end or joint, or, with `offset`, within a segment at that distance from its start.

    `rail` is `left rail`, `right rail`, `both rails`, `frog rail` or `stock rail`.
    """

    at: Span
    place: Word
    offset: Length | None
    rail: Word


class Endplate(NamedTuple):
    """A module's edge; looking out of it, the left rail must carry `left`."""

    at: Span
    name: Word
    left: Word | None


class ClosureBond(NamedTuple):
    """`bond NAME closure rails to stock rails`."""

    at: Span
    turnout: Word


class Cut(NamedTuple):
    """`what` is `closure jumpers`, `around frog`, `around frog without jumpers` or `frog rails`."""

    at: Span
    turnout: Word
    what: Word


class FrogSwitched(NamedTuple):
    """Fed through contacts that move with the points of `mover`, or with its own where that is None.

    `turnout` is a piece (`T1`), or one of the frogs of a piece that has several (`D1.2`), here and below.
    """

    at: Span
    turnout: Word
    mover: Word | None
    through: Word
    diverging: Word


class FrogFromStockRails(NamedTuple):
    at: Span
    turnout: Word


class FrogAutomatic(NamedTuple):
    at: Span
    turnout: Word
    supply: Word
    trips: Current | None = None


class FrogUnpowered(NamedTuple):
    at: Span
    turnout: Word
    reason: Word


class Limit(NamedTuple):
    at: Span
    name: Word
    value: Quantity


class Accept(NamedTuple):
    """Silences the findings of `rule` at `place`, or everywhere; without a reason it silences nothing."""

    at: Span
    rule: Word
    place: Word
    reason: Word | None

    @property
    def everywhere(self) -> bool:
        """Whether it is for all warnings and notes of the rule: `everywhere`, and not `at` something of that name."""
        return "at" not in self.place.lead


Trackwork = Segment | SpecialWork | Turntable | TransferTable
"""What lays one piece of track."""

Statement = (
    Plan
    | Scale
    | Include
    | Module
    | Couple
    | AnyOrder
    | Booster
    | Cab
    | District
    | Block
    | Reverser
    | Common
    | Bus
    | Feeder
    | Trackwork
    | Scissors
    | ApproachTrack
    | Lamp
    | Joint
    | Gap
    | Endplate
    | Rails
    | Solder
    | ClosureBond
    | Cut
    | FrogSwitched
    | FrogFromStockRails
    | FrogAutomatic
    | FrogUnpowered
    | Engine
    | Train
    | Limit
    | Accept
)


class Broken(NamedTuple):
    """A line that could not be read: what was expected there and, where it is clear, what to type instead."""

    at: Span
    message: str
    meant: str | None = None


def where(statement: Statement, part: Word | Quantity | None = None) -> Span:
    """The place in the file of a statement, or of one of its words or quantities."""
    at = statement.at
    if part is None:
        return at
    return Span(at.path, at.start + part.start, at.start + part.end)
