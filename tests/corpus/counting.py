"""How the tool fares with the corpus: is a slip told, at the right place, and mended as the person would mend it?"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import NamedTuple

from corpus.meaning import Texts, same
from corpus.reading import Corpus, Slip, corpus
from railbond.doorway import enter
from railbond.findings import Finding
from railbond.inspection import Inspection
from railbond.mend.difference import changed_lines
from railbond.mend.overlay import Overlay
from railbond.mend.rounds import mend
from trackplan.edit import Edit, apply
from trackplan.span import Source


class Outcome(NamedTuple):
    """What became of one slip. `told`: at its line or at one that names it; `first`: the first mend listed there is
    right; `made`: `mend` is right with no more changed lines than the slip; `found`: anything is told at all."""

    layout: str
    slip: Slip
    found: bool
    told: bool
    first: bool
    made: bool
    findings: tuple[Finding, ...]

    @property
    def missed(self) -> str:
        """What of it failed, for people."""
        wrong = [name for name in ("found", "told", "first", "made") if not getattr(self, name)]
        return f"{self.layout}: {self.slip.kind}: {self.slip.words}: not {', '.join(wrong)}" if wrong else ""


def accusations(layout: Corpus) -> list[Finding]:
    """What is told of a sound plan at warning or above."""
    return told_of(layout.root, layout.texts)


def told_of(root: str, texts: Texts) -> list[Finding]:
    """What `inspect` tells at warning or above, in its order, each with the mends that are offered."""
    return [one for one in _inspected(root, texts).findings if one.level != "note"]


def _inspected(root: str, texts: Texts) -> Inspection:
    return enter(root, _opener(texts)).proven


def _inspected_in_trials(root: str, open_text: Callable[[str], str], *, with_fixes: bool = True) -> Inspection:
    return enter(root, open_text).inspection


def _opener(texts: Texts) -> Callable[[str], str]:
    def open_text(path: str) -> str:
        if path not in texts:
            raise FileNotFoundError(path)
        return texts[path]

    return open_text


def outcomes(corpora: Iterable[Corpus]) -> Iterator[Outcome]:
    """Every slip of every layout, each made alone."""
    return (outcome(corpus, slip) for corpus in corpora for slip in corpus.slips)


def outcome(corpus: Corpus, slip: Slip) -> Outcome:
    """Makes a slip and looks what is told of it and how it is mended."""
    faulty = corpus.with_slip(slip)
    inspection = _inspected(corpus.root, faulty)
    findings = [one for one in inspection.findings if one.level != "note"]
    places = corpus.lines_to_tell(slip)
    there = [one for one in findings if _line(inspection, one) in places]
    fixes = [fix for one in there[:1] for fix in one.fixes if fix.edits][:1]
    mended = [_after(faulty, inspection, fix.edits) for fix in fixes]
    first = any(_is_right(corpus, faulty, texts) for texts in mended)
    made = bool(findings) and _mends(corpus, faulty)
    return Outcome(corpus.name, slip, bool(findings), bool(there), first, made, tuple(findings))


def assert_undone(folder: Path, words: str) -> None:
    """Asserts that one slip of a layout is told, and undone by the first mend."""
    found = _outcome_of(folder, words)
    assert found.told and found.first, [(one.message, [fix.words for fix in one.fixes]) for one in found.findings]


def first_mend(folder: Path, words: str) -> str:
    """The words of the first mend of what is told first of a slip."""
    return _outcome_of(folder, words).findings[0].fixes[0].words


def _outcome_of(folder: Path, words: str) -> Outcome:
    layout = corpus(folder)
    (slip,) = (one for one in layout.slips if one.words == words)
    return outcome(layout, slip)


def _line(inspection: Inspection, finding: Finding) -> tuple[str, int]:
    return finding.at.path, inspection.sources[finding.at.path].line_of(finding.at.start)


def _after(texts: Texts, inspection: Inspection, edits: Iterable[Edit]) -> Texts:
    own = list(edits)
    changed = {edit.at.path for edit in own}
    new = {path: apply(inspection.sources[path], [one for one in own if one.at.path == path]) for path in changed}
    return {**texts, **new}


def _is_right(corpus: Corpus, faulty: Texts, texts: Texts) -> bool:
    """Whether a mended text means what the sound one does, and is accused of nothing that the sound one is not."""
    if not same(corpus.root, corpus.texts, texts, faulty):
        return False
    known = {one.rule for one in accusations(corpus)}
    return all(one.rule in known for one in told_of(corpus.root, texts))


def _mends(corpus: Corpus, faulty: Texts) -> bool:
    """Whether `mend` makes it right again with no more changed lines than the slip itself."""
    overlay = Overlay([corpus.root], _opener(faulty), _inspected_in_trials)
    mend(overlay)
    texts = {**faulty, **overlay.texts}
    return _lines(faulty, texts) <= _lines(faulty, corpus.texts) and _is_right(corpus, faulty, texts)


def _lines(one: Texts, other: Texts) -> int:
    return sum(changed_lines(Source(path, text), other[path]) for path, text in one.items())
