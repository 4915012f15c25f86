"""Plans in memory, on which edits are tried: what cures and does no harm is kept."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence

from railbond.circuit.effort import rationing
from railbond.findings import LEVELS, Finding, Fix
from railbond.inspection import Inspection, inspect
from trackplan.edit import Edit, Resolved, in_text, splice
from trackplan.gather import gather
from trackplan.record import NamedTuple
from trackplan.typed import Protocol

from .difference import comments, moved_to

LONG = 500
"""Lines of a plan."""
SEARCH = 2_500.0
"""Steps that a trial has for whatever explains the faults that a mend uncovers."""
MOST_UNCOVERED = 3
"""How often in a row a mend may uncover faults that others had hidden and that are mended with it."""

OpenText = Callable[[str], str]


class Inspector(Protocol):
    """How a plan is inspected, by its path and by how texts are opened; `with_fixes` unless only findings are asked."""

    def __call__(self, root: str, open_text: OpenText, /, *, with_fixes: bool = True) -> Inspection: ...


InHead = Callable[[Sequence[Edit], bool], Inspection | None]
"""What is found with edits made in the head, with notes or without, at its places; None if only the text can tell."""

Attempted = tuple[Finding, Fix]
Moves = Mapping[str, list[Resolved]]
Key = tuple[str, str, str, int]
"""How a finding is known again after a trial: rule, level, file, and where its line then begins."""

State = tuple[dict[str, str], dict[str, Inspection]]


class Trial(NamedTuple):
    """The texts that edits changed, what their plans have to say with them, and the fixes that made them; and what is
    found in the plan then, of a lesser level than what was cured, that was not before."""

    texts: dict[str, str]
    inspections: dict[str, Inspection]
    jobs: tuple[Attempted, ...]
    then: tuple[Finding, ...] = ()


def inspect_plan(root: str, open_text: OpenText, *, with_fixes: bool = True) -> Inspection:
    """A plan with what it includes, inspected."""
    return inspect(gather(root, open_text), with_fixes=with_fixes)


class Overlay:
    """Plans by their paths, and their texts with all the edits made so far. They may include the same files."""

    def __init__(
        self,
        roots: Iterable[str],
        open_text: OpenText,
        inspector: Inspector = inspect_plan,
        in_head: InHead = lambda *_: None,
    ) -> None:
        self.roots = list(roots)
        self.texts: dict[str, str] = {}
        self.on_disk = open_text
        self.inspector, self.in_head = inspector, in_head
        self._inspections: dict[str, Inspection] = {}

    def open_text(self, path: str) -> str:
        """A file's text as it is by now."""
        return self.texts[path] if path in self.texts else self.on_disk(path)

    def inspection(self, root: str) -> Inspection:
        """What a plan has to say by now."""
        if root not in self._inspections:
            self._inspections[root] = self.inspector(root, self.open_text)
        return self._inspections[root]

    def put(self, root: str, inspection: Inspection) -> None:
        """Takes an inspection of a plan that is at hand already."""
        self._inspections[root] = inspection

    def state(self) -> State:
        """The desk as it is, to come back to."""
        return dict(self.texts), dict(self._inspections)

    def restore(self, state: State) -> None:
        """Puts everything back as it was in a state."""
        self.texts, self._inspections = dict(state[0]), dict(state[1])

    def attempt(
        self, root: str, jobs: Sequence[Attempted], first: Iterable[Edit] = (), others: bool = True
    ) -> Trial | None:
        """The fixes tried together on a plan's text: None unless they cure all their findings and do no harm.

        Harm is a line that does not read, a comment lost, or, in any plan that includes a changed file, a
        finding that was not there and is as bad as the mildest of those cured. A finding that was only hidden by
        the faults that are cured is mended along with them: by its first fix, a plain one unless `others` are
        admitted. `first` are edits to be made with the fixes.
        """
        edits = tuple(dict.fromkeys((*first, *(edit for _, fix in jobs for edit in fix.edits))))
        attempt = _Attempt(self, root, [finding for finding, _ in jobs])
        made = list(jobs)
        for _ in range(MOST_UNCOVERED):
            if not attempt.edit(edits) or attempt.is_dear_for_a_note():
                return None
            uncovered = attempt.uncovered()
            if not uncovered:
                return (
                    Trial(attempt.texts, attempt.after, tuple(made), attempt.besides()) if attempt.is_good() else None
                )
            more = [(one, fix) for one in uncovered if (fix := _first(one, others))]
            made += more
            edits = tuple(edit for _, fix in more for edit in fix.edits)
        return None

    def make(self, trial: Trial) -> None:
        """Keeps what a trial has changed; the plans' fixes are then others."""
        self.keep(trial.texts, trial.inspections)

    def keep(self, texts: Mapping[str, str], roots: Iterable[str] | None = None) -> None:
        """Takes texts as they are from now on; the plans that read them, every one unless it is said, are inspected
        anew when they are next asked for."""
        self.texts |= texts
        for root in list(self._inspections) if roots is None else roots:
            self._inspections.pop(root, None)

    def inspected(self, root: str, texts: Mapping[str, str], with_fixes: bool = False) -> Inspection:
        """What a plan would have to say with some texts changed."""
        open_text: OpenText = lambda path: texts[path] if path in texts else self.open_text(path)  # noqa: E731
        return self.inspector(root, open_text, with_fixes=with_fixes)


def _first(finding: Finding, others: bool) -> Fix | None:
    """The fix for a fault that was uncovered; a fault of the plan's text is not worth more than a plain one."""
    others = others and finding.happens != "on paper"
    return next((fix for fix in finding.fixes if fix.edits and (fix.plain or others)), None)


class _Attempt:
    """Edits made one after the other on an overlay's texts, and what has become of its findings."""

    def __init__(self, overlay: Overlay, root: str, cures: Sequence[Finding]) -> None:
        self.overlay, self.root, self.cures = overlay, root, cures
        self.least = min(LEVELS.index(one.level) for one in cures)
        self.texts: dict[str, str] = {}
        self.after: dict[str, Inspection] = {root: overlay.inspection(root)}
        self.moves: list[Moves] = []
        self.written: dict[str, list[tuple[int, int]]] = {}
        self.in_head: Inspection | None = None  # what is found as a difference, whose places have not moved

    def edit(self, edits: Sequence[Edit]) -> bool:
        """Makes edits of the plan as it was left by the ones before; False where they cannot be made."""
        by_path: dict[str, list[Edit]] = {}
        for edit in edits:
            by_path.setdefault(edit.at.path, []).append(edit)
        sources = self.after[self.root].sources
        try:
            moves = {path: in_text(sources[path], own) for path, own in by_path.items()}
            texts = {path: splice(path, sources[path].text, own) for path, own in moves.items()}
        except ValueError:
            return False
        if not texts or any(comments(sources[path].text) != comments(text) for path, text in texts.items()):
            return False
        if any(self._undoes(path, own) for path, own in moves.items()):
            return False
        self.moves.append(moves)
        self.texts |= texts
        roots = self._roots()
        self.in_head = self._in_head(edits) if roots == [self.root] else None
        self.after = {root: self.in_head or self.overlay.inspected(root, self.texts) for root in roots}
        return True

    def _in_head(self, edits: Sequence[Edit]) -> Inspection | None:
        """The first edits tried as a difference, where what is to be cured is of metal and not of the text."""
        if len(self.moves) > 1 or self.overlay.texts or any(one.happens == "on paper" for one in self.cures):
            return None
        return self.overlay.in_head(edits, any(one.level == "note" for own in self.cures for one in (own, *own.also)))

    def _undoes(self, path: str, resolved: list[Resolved]) -> bool:
        """Whether edits change what earlier ones wrote; if not, notes what these write."""
        before = self.written.get(path, [])
        if any(start < last and first < end for start, end, _ in resolved for first, last in before):
            return True
        written = [(moved_to(first, resolved), moved_to(last, resolved)) for first, last in before]
        shift = 0
        for start, end, new in resolved:
            written.append((start + shift, start + shift + len(new)))
            shift += len(new) - (end - start)
        self.written[path] = written
        return False

    def _roots(self) -> list[str]:
        """The plan, and every other plan that includes a changed file."""
        others = (root for root in self.overlay.roots if root != self.root)
        return [self.root, *(one for one in others if self.texts.keys() & self.overlay.inspection(one).sources.keys())]

    def is_dear_for_a_note(self) -> bool:
        """Whether a fix of nothing worse than a note brings what is worse, in a plan that takes long to explain: no
        mend of that is looked for."""
        if self.least or sum(text.count("\n") for text in self.texts.values()) < LONG:
            return False
        return any(LEVELS.index(key[1]) > 0 for key in self._new(self.root))

    def uncovered(self) -> list[Finding]:
        """The findings of the plan that are new and as bad as those to be cured, with their fixes."""
        if new := self._new(self.root):
            with rationing(SEARCH):
                self.after[self.root] = self.overlay.inspected(self.root, self.texts, with_fixes=True)
            self.in_head = None
            new = self._new(self.root)
        return [one for one in self.after[self.root].after if self._key(one, moved=False) in new]

    def besides(self) -> tuple[Finding, ...]:
        """The findings of the plan that are new, and less bad than what is cured; notes are not worth a word."""
        new = self._now(self.root) - self._then(self.root)
        found = (one for one in self.after[self.root].findings if one.level != "note")
        return tuple(one for one in found if self._key(one, moved=False) in new)

    def is_good(self) -> bool:
        """Whether what was to be cured is, and no plan has a finding that is new and as bad."""
        then, now = self._then(self.root), self._now(self.root)
        gone = Counter(self._key(one) for cured in self.cures for one in (cured, *cured.also))
        if any(now[key] > max(then[key] - count, 0) for key, count in gone.items()):
            return False
        return not any(self._new(root) for root in self.after)

    def _new(self, root: str) -> set[Key]:
        new = self._now(root) - self._then(root)
        return {key for key in new if LEVELS.index(key[1]) >= self.least}

    def _then(self, root: str) -> Counter[Key]:
        before = self.overlay.inspection(root)
        return Counter(map(self._key, before.findings)) | Counter(map(self._key, before.known))

    def _now(self, root: str) -> Counter[Key]:
        return Counter(self._key(one, moved=False) for one in self.after[root].findings)

    def _key(self, finding: Finding, moved: bool = True) -> Key:
        path, start = finding.at.path, finding.at.start
        for moves in self.moves if moved and not self.in_head else ():
            start = moved_to(start, moves.get(path, ()))
        return finding.rule, finding.level, path, start
