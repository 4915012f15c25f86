"""Asks every rule of a plan, and tells each cause once."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import partial

from railbond.circuit.effort import is_spent, sparing
from railbond.circuit.facts import Facts
from railbond.circuit.keeping import tried
from railbond.findings import Finding
from railbond.rules import askable
from railbond.rules.asking import ask, that_warn
from railbond.rules.rule import Askable
from trackplan.record import NamedTuple
from trackplan.typed import TYPE_CHECKING

if TYPE_CHECKING:
    from trackplan.edit import Edit
    from trackplan.gather import GatheredPlan
    from trackplan.span import Source
    from trackplan.statements import Accept

Edits = tuple["Edit", ...]
Told = Callable[[list[Finding]], None]

UNSIZED = "no wire's size or length is told, so voltage drop and tripping were not looked at"

UNUSED = "acceptance-unused"
"""The rule that tells every acceptance; those that accept something are left out where findings are gathered."""

OF_NO_WIRE = frozenset({"unfed-rail", "endplate-unfed", UNUSED})
"""The rules that have something to say of a plan in which nothing is wired yet."""

POWER = range(20, 99)
"""The turns of the rules about resistance."""

ROUNDS = 40
"""How often the plan is mended in the head; each round tells all faults of one rule that stand apart."""

PLENTY, A_LINE = 10_000.0, 30.0
"""Steps of effort, and so many more for each line, after which mends are compared and tried no further than needed."""

LAST = 5_000.0
"""Steps after those, after which causes are no longer told one after the other, each with the others mended."""


class Remark(NamedTuple):
    """What could not be looked at in a plan, by the plan's path."""

    path: str
    text: str


class Inspection(NamedTuple):
    """The texts that were read, and what was found in them, by file and place.

    `after` holds for each finding the mends that had been made in the head before it was told. `remarks` tell what
    could not be looked at. `known` are findings that are not told by themselves: other effects of a slip, or what is
    only found once a mend is made.
    """

    sources: dict[str, Source]
    findings: list[Finding]
    after: dict[Finding, Edits] = {}
    remarks: tuple[Remark, ...] = ()
    known: tuple[Finding, ...] = ()


def inspect(
    gathered: GatheredPlan,
    rules: Sequence[Askable] | None = None,
    with_fixes: bool = True,
    first: Told | None = None,
    facts: Facts | None = None,
    notes: bool = True,
) -> Inspection:
    """Everything that the rules find in a plan and the files it includes; with its fixes, unless nobody asks, and then
    slip by slip, as far as slips explain it. `first` is told what is found in the plan as it is written, before what
    may explain it is looked for. `facts` are those of the plan, where somebody keeps them who has asked nothing yet.
    Where nobody asks for fixes, notes may be left out but for those of which something is accepted."""
    if facts is None:
        facts = Facts(gathered.statements, gathered.sources, gathered.broken, with_fixes=with_fixes)
    with sparing(PLENTY + A_LINE * len(gathered.statements), LAST):
        return _inspected(gathered, askable() if rules is None else rules, facts, first, notes)


def _inspected(
    gathered: GatheredPlan, rules: Sequence[Askable], facts: Facts, first: Told | None, notes: bool
) -> Inspection:
    written = as_written(facts, rules=rules) if facts.with_fixes else []
    if any(one.level != "note" for one in written):
        if first:
            first(written)
        from railbond.explaining.railroads import each_explained

        after = each_explained(facts, written, partial(as_written, rules=rules), partial(examined, rules=rules))
        known = tuple(written)
    else:
        after, known = examined(facts, None if notes else that_warn(rules), rules=rules), ()
    findings = sorted(after, key=lambda one: (one.at, one.rule))
    return Inspection(dict(gathered.sources), findings, after, remarks(facts, gathered.root), known)


def as_written(
    facts: Facts, power: bool = True, names: Iterable[str] | None = None, *, rules: Sequence[Askable]
) -> list[Finding]:
    """What every rule finds in a plan as it stands, no mend made in the head, and nobody has accepted; without the
    rules about the resistance of wires, if they are not to be asked. Of `names`, where some are given, only those rules
    are asked, and those whose findings they look at."""
    told: dict[Finding, Edits] = {}
    asked_for = None if names is None else _with_those_before(names, rules)
    for rule in _in_turn(rules, facts):
        if (power or rule.turn not in POWER) and (asked_for is None or rule.name in asked_for):
            asked = facts.taking_as_live(_told_as_dead(rule, facts, told)) if rule.after else facts
            told |= dict.fromkeys(ask(rule, asked), ())
    return list(_judged(told, facts))


def _with_those_before(names: Iterable[str], rules: Iterable[Askable]) -> set[str]:
    """The names of some rules, and of those that must be asked before them."""
    known = set(names)
    for rule in sorted(rules, key=lambda one: -one.turn):
        if rule.name in known:
            known.update(rule.after)
    return known


def _in_turn(rules: Sequence[Askable], facts: Facts) -> list[Askable]:
    """The rules by turn and name; of a plan without a single wire only those that are about the text, or the wires."""
    unwired = facts.layout.unwired
    asked = (rule for rule in rules if not unwired or rule.turn == 0 or rule.name in OF_NO_WIRE)
    return sorted(asked, key=lambda rule: (rule.turn, rule.name))


def remarks(facts: Facts, path: str) -> tuple[Remark, ...]:
    """What nothing can be said of, because the plan does not tell enough."""
    return (Remark(path, UNSIZED),) if facts.power.sized.nothing_said else ()


def examine(facts: Facts, rules: Sequence[Askable]) -> list[Finding]:
    """The findings that no acceptance silences, in the order in which the rules were asked."""
    return list(examined(facts, rules=rules))


def examined(facts: Facts, names: Iterable[str] | None = None, *, rules: Sequence[Askable]) -> dict[Finding, Edits]:
    """The same, each with the mends that had been made in the head before it was told.

    Rules are asked by turn and name, in whatever order they are given. Beside the causes only those of some `names` are
    asked, where any are given, those whose findings they look at, and those of which something is accepted: whether
    that is in use hangs on them.
    """
    rules = _in_turn(rules, facts)
    if names is not None:
        asked_for = _with_those_before({*names, UNUSED, *(one.rule for one in facts.layout.acceptances)}, rules)
        rules = [rule for rule in rules if rule.cause or rule.name in asked_for]
    told: dict[Finding, Edits] = {}
    for rule in rules:
        if rule.turn == 0:
            told |= dict.fromkeys(ask(rule, facts), ())
    mended = _tell_causes(facts, [rule for rule in rules if rule.cause], told)
    for rule in rules:
        if rule.turn and not rule.cause:
            asked = mended.taking_as_live(_told_as_dead(rule, facts, told)) if rule.after else mended
            told |= dict.fromkeys(_of_the_plan(ask(rule, asked), facts, mended), mended.made)
    return _judged(told, facts)


def _told_as_dead(rule: Askable, facts: Facts, told: Iterable[Finding]) -> Iterator[str]:
    """The names at which the rules that come before another have told dead metal that nobody has accepted."""
    for one in told:
        if one.rule in rule.after and not accepting(one, facts.layout.acceptances):
            yield from one.names


def accepting(finding: Finding, acceptances: Iterable[Accept]) -> list[Accept]:
    """Those of some acceptances that silence a finding."""
    accepted = (one for one in acceptances if one.reason and one.rule == finding.rule)
    return [one for one in accepted if (_is_everywhere(one, finding) if one.everywhere else one.place in finding.names)]


def _is_everywhere(accept: Accept, finding: Finding) -> bool:
    """Whether a finding is no error, and one of the plan, or of the module, of which all are accepted."""
    module = accept.place.removesuffix("everywhere")
    return finding.level != "error" and (not module or any(name.startswith(module) for name in finding.names))


def _judged(told: dict[Finding, Edits], facts: Facts) -> dict[Finding, Edits]:
    """What is left to tell by the owner's own judgment: no finding that is accepted, and no acceptance that accepts
    one."""
    silencing = {finding: accepting(finding, facts.layout.acceptances) for finding in told}
    in_use = {idle(one) for found in silencing.values() for one in found}
    return {one: made for one, made in told.items() if not silencing[one] and _key(one) not in in_use}


def idle(accept: Accept) -> tuple[object, ...]:
    """The finding, as it is known again, that an acceptance accepts nothing."""
    return UNUSED, accept.at, (str(accept.place),)


def _of_the_plan(found: Iterable[Finding], facts: Facts, mended: Facts) -> list[Finding]:
    """The findings without those about a supply that only the mends in the head have brought."""
    new = mended.layout.supplies.keys() - facts.layout.supplies.keys()
    return [one for one in found if not new.intersection(one.names)]


def _tell_causes(facts: Facts, causes: Iterable[Askable], told: dict[Finding, Edits]) -> Facts:
    """Tells one rule's faults at a time and goes on with a plan in which they are mended; where the steps for that are
    taken, all that are left at once."""
    known: set[tuple[object, ...]] = set()
    for _ in range(ROUNDS):
        at_once = is_spent()
        fresh = _all_fresh(facts, causes, known) if at_once else _first_fresh(facts, causes, known)
        if not fresh:
            break
        told |= dict.fromkeys(fresh, facts.made)
        known |= {_key(one) for one in fresh}
        facts = _mended(facts, [one.fixes[0].edits for one in fresh if one.fixes])
        if at_once:
            break
    return facts


def _first_fresh(facts: Facts, causes: Iterable[Askable], known: set[tuple[object, ...]]) -> list[Finding]:
    for rule in causes:
        fresh = [one for one in ask(rule, facts) if _key(one) not in known]
        if fresh:
            return list({_key(one): one for one in fresh}.values())
    return []


def _all_fresh(facts: Facts, causes: Iterable[Askable], known: set[tuple[object, ...]]) -> list[Finding]:
    fresh = (one for rule in causes for one in ask(rule, facts) if _key(one) not in known)
    return list({_key(one): one for one in fresh}.values())


def _key(finding: Finding) -> tuple[object, ...]:
    return finding.rule, finding.at, finding.names


def _mended(facts: Facts, mends: list[Edits]) -> Facts:
    """The plan with the mends made: all at once, or where they do not fit together, those that do."""
    made = tried(facts, (edit for edits in mends for edit in edits))
    if made is not None:
        return made
    for edits in mends if len(mends) > 1 else ():
        facts = _mended(facts, [edits])
    return facts
