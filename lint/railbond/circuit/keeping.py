"""What is worked out of facts once, however many ask.

Facts never change, so an answer that hangs on them alone is kept with them and goes when they go. Whoever has such a
question, in whatever room, puts `once` before it; nothing else need know.

So are the facts of plans that were changed in the head, while somebody asks for that: what is found of a plan has been
found with its faults mended in the head, and what a mend is then tried on is often that very plan.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable
from functools import wraps

from trackplan.typed import TYPE_CHECKING, TypeVar, cast

if TYPE_CHECKING:
    from trackplan.edit import Edit

    from .facts import Facts

Answer = TypeVar("Answer")

Said = tuple[object, ...]
Kept = dict[tuple[Said, bool], "Facts"]

MOST = 4_000
"""Statements of all revised plans that are kept together: a large plan is not held in memory a hundred times."""

REVISIONS, UNKNOWN = "revisions", object()


def once(work: Callable[[Facts], Answer]) -> Callable[[Facts], Answer]:
    """A question to facts that is worked out when it is first asked of them. Its answer is shared and is not to be
    changed; it may hang on neither `live` nor `with_fixes`, of which there are several to the same facts."""

    @wraps(work)
    def asked(facts: Facts) -> Answer:
        answer = facts.kept.get(work, UNKNOWN)
        if answer is UNKNOWN:
            answer = facts.kept[work] = work(facts)
        return cast(Answer, answer)

    return asked


def forget_answers(of: Facts) -> None:
    """Lets go of what was worked out for questions, but for what rules found: whoever asks again has it worked out."""
    for key in list(of.kept):  # others may ask meanwhile
        if not isinstance(key, tuple) and key != REVISIONS:
            of.kept.pop(key, None)
    for name in ("witness", "polarity"):
        of.__dict__.pop(name, None)


def keep_revisions(of: Facts) -> None:
    """From now on those of a plan are kept."""
    of.kept.setdefault(REVISIONS, Kept())


def drop_revisions(of: Facts) -> None:
    """Whoever asks has what they wanted."""
    of.kept.pop(REVISIONS, None)


def tried(facts: Facts, edits: Iterable[Edit]) -> Facts | None:
    """What `facts.tried` gives; where such are kept, those that say the same and are known. What was added may then
    lie at another empty place."""
    found = facts.tried(edits)
    kept = _kept(facts)
    if kept is None or found is None:
        return found
    said = _said(found)
    whole = kept.get((said, True))
    if whole and not facts.with_fixes:
        found = whole.in_trial()
    known = kept.get((said, facts.with_fixes)) or keep(found)
    if known.also_accepted == facts.also_accepted:
        return known
    return known.accepting(facts.also_accepted, facts.sources)


def keep(facts: Facts) -> Facts:
    """The same facts of a plan as it was changed; they are kept, if such are and there is room."""
    kept = _kept(facts)
    if kept is not None and (len(kept) + 1) * len(facts.statements) <= MOST:
        kept[_said(facts), facts.with_fixes] = facts
    return facts


def _kept(facts: Facts) -> Kept | None:
    while facts.before:
        facts = facts.before
    return cast("Kept | None", facts.kept.get(REVISIONS))


def _said(facts: Facts) -> Said:
    """What the plan says otherwise than its text: the lines that are gone, those that were changed, and how often each
    was added, wherever that is."""
    read = set(map(id, facts.as_read))
    new = [one for one in facts.statements if id(one) not in read]
    gone = read.difference(map(id, facts.statements))
    said = Counter((one.at if one.at.start < one.at.end else None, type(one), one[1:]) for one in new)
    return frozenset(gone), frozenset(said.items())
