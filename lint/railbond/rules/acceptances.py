"""The owner's own judgment: `accept` statements that give no reason, or that nothing is left for."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from railbond.circuit.facts import Facts
from railbond.findings import Fix, Found, Level
from railbond.fixes.fix_edits import taken_out
from trackplan.amend import add_clause, set_word
from trackplan.edit import Edit
from trackplan.statements import Accept, where

from .rule import Askable, Rule


def find_without_reason(facts: Facts) -> Iterator[Found]:
    """An acceptance must say why: it silences nothing until it does."""
    for one in facts.layout.acceptances:
        if not one.reason:
            said = Fix(
                "add why the fault is no fault here",
                (add_clause(one, "reason", 'because "say why"'),),
                plain=False,
                changes="the finding is silenced by the owner's word",
            )
            yield _found(
                one,
                f'this acceptance of {one.rule} {_at(one)} gives no reason, so it silences nothing. Add `because "…"`.',
                said,
                Fix(_taken_words(one), (taken_out(facts, one),)),
            )


def find_unused(facts: Facts) -> Iterator[Found]:
    """Every acceptance, as one that has nothing left to accept, or whose rule's name nobody knows. Whoever gathers
    findings knows which of them accept something, and tells only the others. One at a name that there is not is told
    of already, with the name that may be meant."""
    from . import askable

    known = {rule.name: rule for rule in askable()}
    misspelled = {fault.at for fault in facts.layout.faults}
    for one in facts.layout.acceptances:
        if one.rule not in known:
            yield _unknown_rule(one, known)
        elif one.reason and where(one, one.place) not in misspelled:
            message = f"nothing is left to accept: {one.rule} is not found {_at(one)}."
            if one.everywhere and _level(known[one.rule]) == "error":
                message = (
                    f"only warnings and notes are accepted everywhere, and {one.rule} is an error: accept it at a name."
                )
            out = Fix(_taken_words(one), (taken_out(facts, one),))
            yield _found(one, message, out)


def _level(rule: Askable) -> Level:
    return rule.level if isinstance(rule, Rule) else rule.rule.level


def _taken_words(one: Accept) -> str:
    return f"take out the line that accepts {one.rule} {_at(one)}"


def _at(one: Accept) -> str:
    return "everywhere" if one.everywhere else f"at {one.place}"


def _unknown_rule(one: Accept, known: Iterable[str]) -> Found:
    from difflib import get_close_matches

    near = get_close_matches(one.rule, list(known), 1)
    edits: tuple[Edit, ...] = (set_word(one, one.rule, near[0]),) if near else ()
    hint = f" Did you mean {near[0]}?" if near else " `railbond rules` lists them."
    fixes = (Fix(f"write `{near[0]}`", edits),) if near else ()
    message = f"there is no rule called {one.rule}.{hint}"
    return Found(where(one, one.rule), message, (), "", fixes, (str(one.place),))


def _found(one: Accept, message: str, *fixes: Fix) -> Found:
    return Found(one.at, message, (), "", fixes, (str(one.place),))


_PLAN = """\
booster  B1    15 V  5 A
district main  from B1  trips 4 A
segment  lead  stop -> T1.points      90 cm
turnout  T1    left  number 6  isolated-frog
segment  line  T1.through -> stop     90 cm
segment  dock  T1.diverging -> stop   90 cm
feeder   main -> lead
feeder   main -> line
feeder   main -> dock
"""
_FED = "frog     T1    switched from stock rails\n"

RULES = (
    Rule(
        "acceptance-without-reason",
        "warning",
        "on paper",
        0,
        False,
        find_without_reason,
        "An `accept` without its reason.",
        "The next member cannot know whether the fault was judged or just silenced, so it is told all the same.",
        "No meter finds this: ask whoever wrote the line.",
        'End the line with because "…".',
        _PLAN + _FED + "accept   unfed-frog at T1\n",
        _PLAN + 'accept   unfed-frog at T1 because "every engine here is long"\n',
        when="something is accepted",
        of_acceptances=True,
    ),
    Rule(
        "acceptance-unused",
        "warning",
        "on paper",
        99,
        False,
        find_unused,
        "An `accept` for which no finding is left.",
        "Nothing happens today; but the line would silence the same fault when it comes back for another cause.",
        "No meter finds this: the fault that was accepted is gone.",
        "Take the line out of the plan.",
        _PLAN + _FED + 'accept   unfed-frog at T1 because "every engine here is long"\n',
        _PLAN + _FED,
        when="something is accepted",
        of_acceptances=True,
    ),
)
