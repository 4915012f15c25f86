"""A slip of the hand, by what undoes it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from railbond.circuit.facts import Facts
from railbond.findings import Finding
from trackplan.edit import Edit
from trackplan.record import NamedTuple
from trackplan.span import Span
from trackplan.typed import Protocol

from .practice import FARTHER, LIKELY, MORE_LINES


class HandSlip(NamedTuple):
    """One slip: its kind (a row of `practice.LIKELY`), the line that it is in or nearest to, and how it is undone.

    `words` say that for the bench, `said` what the slip is. `far` counts how far the undone plan lies from what
    stands there: terminals on the way, joints between a cut and where it should be. `lines` are the lines changed,
    and `slips` counts those that are told as one.
    """

    kind: str
    at: Span
    edits: tuple[Edit, ...]
    words: str
    said: str
    names: tuple[str, ...] = ()
    far: float = 0.0
    lines: int = 1
    slips: int = 1

    @property
    def weight(self) -> float:
        """How likely the slip is, by common practice."""
        return LIKELY[self.kind].weight - FARTHER * self.far - MORE_LINES * (self.lines - 1)


def one_letter_off(word: str, pool: Iterable[str]) -> Iterator[str]:
    """The names that one wrong, missing or additional letter, or two exchanged ones, turn into a word."""
    for name in pool:
        if name != word and abs(len(name) - len(word)) <= 1 and _is_near(name, word):
            yield name


def _is_near(one: str, other: str) -> bool:
    start = 0
    while start < min(len(one), len(other)) and one[start] == other[start]:
        start += 1
    rest, others = one[start:], other[start:]
    if len(rest) == len(others):
        exchanged = rest[:2] == others[:2][::-1] and rest[2:] == others[2:]
        return rest[1:] == others[1:] or exchanged
    return rest[1:] == others or rest == others[1:]


class Ask(Protocol):
    """Everything that is found in a plan as it stands, and that nobody has accepted; without what takes the resistance
    of wires to tell, if that is not asked for. Of `names`, where some are given, at least what these rules find."""

    def __call__(self, facts: Facts, power: bool, names: Iterable[str] | None = None) -> list[Finding]: ...
