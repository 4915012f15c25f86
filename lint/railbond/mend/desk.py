"""Plans in memory, on which edits are tried: what cures and does no harm is kept."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from typing import NamedTuple

from railbond.findings import LEVELS, Finding
from railbond.inspection import Inspection, inspect
from trackplan.book import gather
from trackplan.edit import Edit, Resolved, in_text, splice
from trackplan.read import QUOTED_OR_COMMENT

Key = tuple[str, str, str, int]
"""How a finding is known again after a trial: rule, level, file, and where its line then begins."""


class Trial(NamedTuple):
    """The texts that edits changed, and what their plans have to say with them."""

    texts: dict[str, str]
    inspections: dict[str, Inspection]


class Desk:
    """Plans by their paths, and their texts with all the edits made so far. They may include the same files."""

    def __init__(self, roots: Iterable[str], open_text: Callable[[str], str]) -> None:
        self.roots = list(roots)
        self.texts: dict[str, str] = {}
        self.on_disk = open_text
        self._inspections: dict[str, Inspection] = {}

    def open_text(self, path: str) -> str:
        """A file's text as it is by now."""
        return self.texts[path] if path in self.texts else self.on_disk(path)

    def inspection(self, root: str) -> Inspection:
        """What a plan has to say by now."""
        if root not in self._inspections:
            self._inspections[root] = inspect(gather(root, self.open_text))
        return self._inspections[root]

    def put(self, root: str, inspection: Inspection) -> None:
        """Takes an inspection of a plan that is at hand already."""
        self._inspections[root] = inspection

    def attempt(self, root: str, cures: Sequence[Finding], edits: Iterable[Edit]) -> Trial | None:
        """The edits tried on a plan's text: None unless they cure all of these findings of it and do no harm.

        Harm is a line that does not read, a comment lost, or, in any plan that includes a changed file, a
        finding that was not there and is as bad as the mildest of those cured.
        """
        try:
            moves = self._resolved(root, edits)
        except ValueError:
            return None
        texts = {path: splice(path, self.open_text(path), own) for path, own in moves.items()}
        if not texts or any(comments(self.open_text(path)) != comments(new) for path, new in texts.items()):
            return None
        least = min(LEVELS.index(one.level) for one in cures)
        trial = Trial(texts, {})
        for plan in [root, *(one for one in self.roots if one != root and texts.keys() & self._files(one))]:
            before, after = self.inspection(plan), self._inspected(plan, texts)
            if not _mends(before, after, cures if plan == root else (), moves, least):
                return None
            trial.inspections[plan] = after
        return trial

    def make(self, trial: Trial) -> None:
        """Keeps what a trial has changed."""
        self.texts |= trial.texts
        self._inspections |= trial.inspections

    def _resolved(self, root: str, edits: Iterable[Edit]) -> dict[str, list[Resolved]]:
        edits = list(edits)
        sources = self.inspection(root).sources
        return {
            path: in_text(sources[path], (edit for edit in edits if edit.at.path == path))
            for path in dict.fromkeys(edit.at.path for edit in edits)
        }

    def _inspected(self, root: str, texts: dict[str, str]) -> Inspection:
        return inspect(gather(root, lambda path: texts[path] if path in texts else self.open_text(path)))

    def _files(self, root: str) -> Iterable[str]:
        return self.inspection(root).sources.keys()


def _mends(
    before: Inspection, after: Inspection, cures: Sequence[Finding], moves: dict[str, list[Resolved]], least: int
) -> bool:
    """Whether the cured findings are gone and no other is new and at least as bad as `least`."""
    then = Counter(_key(one, moves) for one in before.findings)
    now = Counter(_key(one, {}) for one in after.findings)
    gone = Counter(_key(one, moves) for one in cures)
    if any(now[key] > then[key] - count for key, count in gone.items()):
        return False
    return not any(LEVELS.index(level) >= least for _, level, _, _ in now - then)  # type: ignore[arg-type]


def _key(finding: Finding, moves: dict[str, list[Resolved]]) -> Key:
    at = finding.at
    return finding.rule, finding.level, at.path, moved(at.start, moves.get(at.path, ()))


def moved(offset: int, resolved: Iterable[Resolved]) -> int:
    """Where an offset of the unmodified text is after the edits; one within a stretch that is replaced goes to its
    beginning."""
    shift = 0
    for start, end, new in resolved:
        if end <= offset:
            shift += len(new) - (end - start)
        elif start < offset:
            return start + shift
    return offset + shift


def comments(text: str) -> list[str]:
    """All comments of a text, in their order."""
    return [one.rstrip() for one in QUOTED_OR_COMMENT.findall(text) if one[0] == "#"]
