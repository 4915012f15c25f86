"""What the tool says about a plan: findings, the steps that explain them, and their mends."""

from __future__ import annotations

from trackplan.record import NamedTuple
from trackplan.span import Span
from trackplan.typed import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from trackplan.edit import Edit

Level = Literal["error", "warning", "note"]
Happens = Literal["short", "dead rail", "stall", "heat", "on paper"]
Proven = Literal["", "alone", "together", "untried"]
Danger = Literal["cuts", "solders", "rewires", "ohms", "volts", "breaker"]
"""What hands do for a mend, and what a test asks of them: `care` has the caution of each."""

Says = Literal[
    "carries", "feeds", "joined", "tied", "dead", "touch", "no volts", "opposed", "rolls", "against", "open", "turns",
    "idle", "unused",
]  # fmt: skip
"""What a claim says of metal, see `Claim`."""

VEILED = "this line of a file from elsewhere cannot be read"
"""All that is told of a broken line in a file that a stranger's plan has led to: nothing of its text is repeated."""

BROKE_OFF = "the rule {} broke off"
"""What begins the finding of a rule that could not be asked, with its name."""

LEVELS: tuple[Level, ...] = ("note", "warning", "error")


class Claim(NamedTuple):
    """One thing that a sentence says is so of the plan as it is written, whatever else its points do than `positions`.

    `of` names metal as `RailGraph.names` does, `legs` are legs as a plan writes them. The metal `carries` the leg; in
    some setting the supply `feeds` it; two legs are `joined` through metal; two conductors are `tied` by one bond or
    wire; metal is `dead` in every setting, or has power only by the `touch` of a blade; between two rails there are
    `no volts`, or they are `opposed`; a wheel `rolls` from one to the other, or does with one switch `against` it; a
    blade stands `open` beside a rail; track through these pieces `turns` back on itself; a reverser is `idle`.
    """

    says: Says
    of: tuple[str, ...] = ()
    legs: tuple[str, ...] = ()
    positions: tuple[tuple[str, str], ...] = ()


class Step(NamedTuple):
    """One step of the reason: a line of the plan and what it does. `at` is None for what no line says."""

    at: Span | None
    text: str
    claims: tuple[Claim, ...] = ()


class Fix(NamedTuple):
    """A mend: edits to the plan and the same in words for the bench.

    `plain` is a cut, a drop or a swap; a fix that is not plain changes how the railroad runs or is built, says
    so in `changes`, and is only made when asked for by name. `proven` tells that it cured its finding and brought no
    other when it was tried on the plan in memory, by itself or together with mends of other findings; that the plan
    was too large to try it; or (empty) that nobody has tried yet. `then` tells what is found besides once it is made.
    """

    words: str
    edits: tuple[Edit, ...]
    plain: bool = True
    changes: str = ""
    proven: Proven = ""
    then: tuple[str, ...] = ()


class Found(NamedTuple):
    """A fault as a rule finds it. `names` are the names of the plan at which it can be accepted, the main one first.

    `level` and `happens` are said only where they are not the rule's own. `claims` are what its message says.
    """

    at: Span
    message: str
    why: tuple[Step, ...] = ()
    setting: str = ""
    fixes: tuple[Fix, ...] = ()
    names: tuple[str, ...] = ()
    level: Level | None = None
    happens: Happens | None = None
    claims: tuple[Claim, ...] = ()


class Finding(NamedTuple):
    """A fault as it is told: what a rule has found, with the rule's name, its level, what happens, and what is
    dangerous about looking for it and mending it. Whoever asks the rule puts these on (`rules/asking.py`). `also` are
    other effects of the same slip: where else it shows, and how. `setting` is as a person says it, `positions` the
    switches of the plan and how each stands. `claims` are what its message says, as data."""

    rule: str
    level: Level
    happens: Happens
    at: Span
    message: str
    why: tuple[Step, ...] = ()
    setting: str = ""
    fixes: tuple[Fix, ...] = ()
    names: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    also: tuple[Finding, ...] = ()
    positions: tuple[tuple[str, str], ...] = ()
    claims: tuple[Claim, ...] = ()

    @property
    def exactly(self) -> str:
        """The setting as a plan and a command write it: `T1 diverging, T2 through`."""
        return ", ".join(f"{switch} {position}" for switch, position in self.positions)

    @property
    def reason(self) -> tuple[Step, ...]:
        """The steps of the reason, and after them where else it shows."""
        return *self.why, *(Step(one.at, f"also: {one.message}") for one in self.also)
