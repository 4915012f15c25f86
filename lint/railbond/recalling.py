"""What was found in a plan a moment ago, kept by what the plan says.

Most keystrokes change nothing that the plan says: they type a comment, a blank, half a line, or take back what was
typed before. What was found then is so still, at places that have moved. Whatever cannot be told so is inspected anew.

Two plans say the same where the same lines were read, one by one, in every file, and where the broken lines keep the
layout from telling the same: `silencing`; where more is found than these, only where nothing stands in for them. Of
what is found, `syntax` alone is about the broken lines, and is asked again. The first broken line of a plan of which
nothing but notes is told brings nothing else.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import TYPE_CHECKING

from railbond.circuit.facts import Facts
from railbond.circuit.keeping import forget_answers
from railbond.circuit.of_graph import settle
from railbond.findings import Finding
from railbond.inspection import Edits, Inspection
from railbond.layout.difference import is_near
from railbond.moves import CannotTell, FileMoves, Moves
from railbond.rules import askable
from railbond.rules.asking import ask
from railbond.steady import SteadyFile
from trackplan.amend import parts_of
from trackplan.record import NamedTuple
from trackplan.reread import Rereader
from trackplan.span import Word
from trackplan.statements import Accept, Couple

if TYPE_CHECKING:
    from trackplan.gather import GatheredPlan

Told = tuple[Finding, Edits]
Anew = Callable[["GatheredPlan", Facts], Inspection]
"""Inspects a plan by facts of it that nobody has asked anything yet."""
MOST_KEPT = 3
"""Plans of which it is known what was found in them: what is typed now, and what stood there before."""
MOST_WORKED, MOST_STATEMENTS = 2, 45_000
"""Of these, of how many the facts are known: what is typed wrong is mostly taken back, and typed at again. Facts told
from others share nearly all with these. Of plans that have more statements together, those of one."""
LONG = 5_000
"""Statements of a plan of which nothing is held that explains its faults, once these are told."""
OF_THE_TEXT = frozenset({"syntax", "number-in-comment"})
"""The rules that look at more than what the statements say."""


class Worked(NamedTuple):
    """The facts of a plan, at the places of its steady texts."""

    files: dict[str, SteadyFile]
    facts: Facts | None


class RecentInspections:
    """The last few inspections of one plan."""

    def __init__(self) -> None:
        self.reader = Rereader()
        self.kept: list[tuple[GatheredPlan, Inspection, frozenset[str] | None, Worked]] = []
        self.worked = Worked({}, None)
        """What was last worked out anew of the plan, or of what it is again."""

    def of(self, gathered: GatheredPlan, anew: Anew) -> Inspection:
        """What is found in a plan: as it was found before, where that can be told, else worked out anew, of what is
        known of it."""
        self.reader.keep(gathered.readings)
        for known in list(self.kept):
            try:
                found = _recalled(gathered, *known[:3])
            except CannotTell:
                continue
            before, _, words, worked = known
            if worked.facts:
                self.worked = worked
            if gathered.broken and not before.broken:  # which will be the plan again
                return self._keep(gathered, found, None)
            self.kept.remove(known)
            return self._keep(gathered, found, words)
        return self._keep(gathered, *self._anew(gathered, anew))

    def _anew(self, gathered: GatheredPlan, anew: Anew) -> tuple[Inspection, frozenset[str] | None]:
        files = {path: SteadyFile(one, self.worked.files.get(path)) for path, one in gathered.readings.items()}
        steady = gathered._replace(readings={path: one.steady for path, one in files.items()})
        if gathered.broken and not self._is_told_from_before(steady):
            facts = Facts(gathered.statements, gathered.sources, gathered.broken)
            return anew(gathered, facts), silencing(gathered)
        facts = Facts(steady.statements, steady.sources, steady.broken, before=self._known(steady))
        found, moves = anew(steady, facts), Moves(files)
        words = silencing(steady, facts.before)
        settle(facts)
        if len(facts.statements) > LONG:
            forget_answers(facts)
        if not gathered.broken and (not facts.layout.faults or self.worked.facts is None):
            self.worked = Worked(files, facts)  # from a plan with faults nothing can be taken over
        every = dict.fromkeys((*found.findings, *found.after, *found.known))
        told = {one: moves.moved(one) for one in every}
        after = {told[one]: moves.moved(made) for one, made in found.after.items()}
        findings, known = [told[one] for one in found.findings], tuple(told[one] for one in found.known)
        return Inspection(dict(gathered.sources), findings, after, found.remarks, known), words

    def _is_told_from_before(self, steady: GatheredPlan) -> bool:
        """Whether a plan with lines that could not be read differs by these from one that is known, with which nothing
        is wrong: what is told of names hangs on their words else."""
        known = self.worked.facts
        if not known or known.layout.faults or any(isinstance(one, Couple) for one in steady.statements):
            return False
        return is_near(known.statements, steady.statements)

    def _known(self, steady: GatheredPlan) -> Facts | None:
        """The facts of a plan that differs in a few lines."""
        known = self.worked.facts
        if known and not is_near(known.statements, steady.statements):
            self._forget()
        return self.worked.facts

    def _forget(self) -> None:
        """Lets go of all facts: a large plan is not held in memory twice while it is worked out anew."""
        self.worked = Worked({}, None)
        self.kept = [(*known[:3], self.worked) for known in self.kept]

    def _keep(self, gathered: GatheredPlan, found: Inspection, words: frozenset[str] | None) -> Inspection:
        self.kept = [(gathered, found, words, self.worked), *self.kept][:MOST_KEPT]
        worked = [*{id(one): one for *_, one in self.kept if one.facts}.values()]
        del worked[MOST_WORKED:]
        if sum(len(one.facts.statements) for one in worked if one.facts) > MOST_STATEMENTS:
            del worked[1:]
        known = set(map(id, worked))
        self.kept = [(*one[:3], one[3] if id(one[3]) in known else Worked({}, None)) for one in self.kept]
        return found


def silencing(gathered: GatheredPlan, near: Facts | None = None) -> frozenset[str] | None:
    """The words of broken lines that may keep the layout from telling a fault, or from coupling; None where it has none
    to tell, whatever the broken lines say. `near` are facts of a plan that differs in a few lines."""
    if not gathered.broken:
        return frozenset()
    statements = gathered.statements
    is_coupled = any(isinstance(one, Couple) for one in statements)
    if not is_coupled and not Facts(statements, gathered.sources, before=near).layout.faults:
        return None
    words = Facts(statements, gathered.sources, gathered.broken).broken_words
    known = {owner for one in statements for word in parts_of(one) if isinstance(word, Word) for owner in _owners(word)}
    return frozenset(word for word in words if not known.isdisjoint(_owners(word))) | (words & {"reverser"})


def _owners(word: str) -> Iterable[str]:
    while word:
        yield str(word)
        word = word.rpartition(".")[0]


def _recalled(
    gathered: GatheredPlan, before: GatheredPlan, found: Inspection, words: frozenset[str] | None
) -> Inspection:
    """What was found before, at its places of now. Raises CannotTell."""
    if list(before.readings) != list(gathered.readings) or (before.broken and not gathered.broken):
        raise CannotTell
    moves = Moves({path: FileMoves(before.readings[path], one) for path, one in gathered.readings.items()})
    accepted = {one.rule for one in gathered.statements if type(one) is Accept}
    if not accepted.isdisjoint(OF_THE_TEXT):
        raise CannotTell
    if not gathered.broken:
        if any(one.level != "note" for one in found.findings):
            _same_words(before, gathered)
    elif not before.broken:
        _only_notes(gathered, found, accepted)
    elif words is not None and words != silencing(gathered):
        raise CannotTell
    elif any(one.rule != "syntax" and one.level != "note" for one in found.known):
        if all(before.readings[path].source.text == one.source.text for path, one in gathered.readings.items()):
            return found._replace(sources=dict(gathered.sources))
        _without_stand_ins(before, gathered)
    return _told_now(gathered, found, moves)


def _told_now(gathered: GatheredPlan, found: Inspection, moves: Moves) -> Inspection:
    """What was found, where it is now; of the broken lines all that there is to tell of them now."""
    syntax, turns = _syntax(gathered), {rule.name: (rule.turn, rule.name) for rule in askable()}
    after = dict(_with_syntax(found.after.items(), syntax, moves))
    known = tuple(one for one, _ in _with_syntax(((one, ()) for one in found.known), syntax, moves))
    if syntax and not found.known:
        known = tuple(sorted(after, key=lambda one: turns[one.rule]))
    findings = sorted(after, key=lambda one: (one.at, one.rule))
    return Inspection(dict(gathered.sources), findings, after, found.remarks, known)


def _with_syntax(told: Iterable[Told], syntax: Sequence[Finding], moves: Moves) -> Iterator[Told]:
    """What was told, where it is now, with what is told of broken lines: in the place of what was told of such, else
    where that rule is asked."""
    earlier = {rule.name for rule in askable() if (rule.turn, rule.name) < (0, "syntax")}
    waiting = [(one, Edits()) for one in syntax]
    for one, made in told:
        if one.rule not in earlier:
            yield from waiting
            waiting = []
        if one.rule != "syntax":
            yield moves.moved(one), moves.moved(made)
    yield from waiting


def _only_notes(gathered: GatheredPlan, found: Inspection, accepted: set[Word]) -> None:
    """Raises CannotTell where the first broken line of a plan may change what else is told: where it has more than
    notes, of which slips may be the cause, or where there is something that the words of the line may silence."""
    turns = {rule.name: rule.turn for rule in askable()}
    if any(one.level != "note" for one in found.findings) or any(found.after.values()):
        raise CannotTell
    if any(type(one) is Couple for one in gathered.statements) or not all(map(turns.get, accepted)):
        raise CannotTell
    if accepted and any(claim.says == "opposed" for one in found.findings for claim in one.claims):
        raise CannotTell  # a short that was accepted may hide it


def _same_words(before: GatheredPlan, gathered: GatheredPlan) -> None:
    """Raises CannotTell where the texts do not use the same units, comments and all: by these it is told which of them
    may be a slip of the pen."""
    from railbond.explaining.words import units_used

    for path, reading in gathered.readings.items():
        if units_used(before.readings[path].source.text) != units_used(reading.source.text):
            raise CannotTell


def _without_stand_ins(*plans: GatheredPlan) -> None:
    """Raises CannotTell where another statement stands in for a line that could not be read."""
    from railbond.explaining.unread import stand_ins

    if any(stand_ins(Facts(plan.statements, plan.sources, plan.broken)) for plan in plans):
        raise CannotTell


def _syntax(gathered: GatheredPlan) -> list[Finding]:
    """What is told of the broken lines."""
    if not gathered.broken:
        return []
    facts = Facts(gathered.statements, gathered.sources, gathered.broken)
    return [one for rule in askable() if rule.name == "syntax" for one in ask(rule, facts)]
