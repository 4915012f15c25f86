"""Who names what: every name in a plan's text, with its place and what it stands for.

Roles (`supply`, `end`, `turnout_name` …) are the parts of plan.lark, so a new statement's names are found without a
word here. Names stand in spaces: engines and trains have one of their own, legs have another, all else shares one.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator
from functools import cache, cached_property
from typing import NamedTuple

from railbond.layout.names import SPACES
from trackplan.gather import GatheredPlan, beside
from trackplan.span import Span, Word
from trackplan.statements import District, Module, Statement, where
from trackplan.tables import RULES
from trackplan.words import begins

SHARED, RUNNING, LEGS = "", "running", "leg"
DEFINING = ("name", "terminal")
NO_NAMES = frozenset({"scale_name", "limit_name", "rule_name", "metal", "position"})
"""Parts that are words, but that the language and not the plan knows."""
WITH_LEG = frozenset({"leg", "legs", "supply"})


class Name(NamedTuple):
    """A name within the plan whose root file is `root`."""

    root: str
    space: str
    text: str


class Use(NamedTuple):
    """A name at its place; `role` is the part of the statement in which it stands."""

    name: Name
    at: Span
    defines: bool
    statement: Statement
    role: str


class Scope:
    """All names of a plan and the files that it includes."""

    def __init__(self, gathered: GatheredPlan) -> None:
        self.root = gathered.root
        self.modules = {
            str(one.name): beside(one.at.path, one.file) for one in gathered.statements if isinstance(one, Module)
        }
        self.uses: dict[Name, list[Use]] = {}
        self.places: dict[str, list[Use]] = {path: [] for path in gathered.readings}
        self._running: set[str] = set()
        for statement in sorted(gathered.statements, key=lambda one: SPACES.get(type(one), "") != RUNNING):
            for use in self._in(statement):
                self._note(use)
        for uses in self.places.values():
            uses.sort(key=lambda use: use.at)

    @cached_property
    def defined(self) -> dict[Name, Statement]:
        """The statement that defines each name: the first one."""
        found: dict[Name, Statement] = {}
        for name, uses in self.uses.items():
            for use in uses:
                if use.defines:
                    found.setdefault(name, use.statement)
        return found

    def at(self, path: str, offset: int) -> Use | None:
        """The name on which, or right behind which, an offset lies."""
        uses = self.places.get(path, [])
        index = bisect_right(uses, offset, key=lambda use: use.at.start) - 1
        return uses[index] if index >= 0 and offset <= uses[index].at.end else None

    def _note(self, use: Use) -> None:
        self.uses.setdefault(use.name, []).append(use)
        self.places.setdefault(use.at.path, []).append(use)
        if use.defines and use.name.space == RUNNING:
            self._running.add(use.name.text)

    def _in(self, statement: Statement) -> Iterator[Use]:
        for role, word in words(statement):
            if role in DEFINING and "." not in word:
                space = SPACES.get(type(statement), SHARED)
                yield Use(Name(self.root, space, str(word)), where(statement, word), True, statement, role)
            elif not (role == "end" and word == "stop"):
                yield from self._parts(statement, role, word)

    def _parts(self, statement: Statement, role: str, word: Word) -> Iterator[Use]:
        """The names of a reference: `quarry.P2.red` is a module, a supply in its plan, and a leg."""
        parts = _split(word)
        root = self.root
        if len(parts) > 1 and str(parts[0]) in self.modules:
            yield self._use(root, SHARED, parts[0], statement, role)
            root = self.modules[str(parts.pop(0))]
        if role in ("leg", "legs") and len(parts) == 1:
            yield self._use(root, LEGS, parts[0], statement, role)
            return
        space = RUNNING if role == "accepted_name" and str(parts[0]) in self._running else SHARED
        yield self._use(root, space, parts[0], statement, role)
        if role in WITH_LEG and len(parts) == 2:
            yield self._use(root, LEGS, parts[1], statement, role)

    def _use(self, root: str, space: str, part: Word, statement: Statement, role: str) -> Use:
        defines = space == LEGS and isinstance(statement, District)
        return Use(Name(root, space, str(part)), where(statement, part), defines, statement, role)


def scope_of(gathered: GatheredPlan) -> Scope:
    """The names of a plan."""
    return Scope(gathered)


def words(statement: Statement) -> Iterator[tuple[str, Word]]:
    """Every name in a statement, with the part of plan.lark in which it stands."""
    for role, part in zip(roles(type(statement).__name__), statement[1:], strict=False):
        row = part if isinstance(part, tuple) else (part,)
        parts = _row(role) if role and not _is_word(role) else (role,)
        for place, word in enumerate(row):
            own = parts[min(place, len(parts) - 1)]
            if own and isinstance(word, Word):
                yield own, word


@cache
def roles(kind: str) -> tuple[str, ...]:
    """The part of plan.lark that each field of a statement holds, empty where it holds no name."""
    found: dict[int, str] = {}
    for rule, symbols, kept in RULES:
        if rule[1:-1].title().replace("_", "") == kind:
            for field, place in enumerate(kept):
                if place is not None and (role := _role(symbols[place])):
                    found[field] = role
    return tuple(found.get(field, "") for field in range(max(found, default=-1) + 1))


def _role(symbol: str) -> str:
    role = symbol[1:-1] if symbol[0] == "<" else ""
    return role if role and role not in NO_NAMES and (_is_word(role) or any(_row(role))) else ""


def _is_word(role: str) -> bool:
    return "WORD" in begins(f"<{role}>")


@cache
def _row(role: str) -> tuple[str, ...]:
    """The parts that the words of a row hold, such as those of `through contacts of T1 diverging`. The last of them
    stands for all that may follow."""
    rules = [(symbols, kept) for rule, symbols, kept in RULES if rule == f"<{role}>" and rule not in symbols]
    symbols, kept = min(rules, key=lambda one: len(one[0]), default=((), ()))
    inner = (symbols[place] for place in kept if place is not None)
    words = (one[1:-1] for one in inner if one[0] == "<")
    return tuple(one if one not in NO_NAMES and _is_word(one) else "" for one in words)


def _split(word: Word) -> list[Word]:
    """The parts between the dots, each with its place."""
    parts, start = [], word.start
    for text in word.split("."):
        parts.append(Word(text, start))
        start += len(text) + 1
    return parts
