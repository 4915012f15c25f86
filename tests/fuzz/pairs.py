"""A plan said in two ways must have the same findings, up to names and the places of lines."""

from __future__ import annotations

from bisect import bisect_right
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from random import Random
from unittest.mock import patch

from fuzz.retelling import (
    Lines,
    is_plain,
    joined,
    mirrored,
    names_of,
    renamed,
    shuffled,
    split,
    statements,
    turned,
    without_heads,
)
from fuzz.running import Failure, TooLong, at_most
from fuzz.targets import PLAN, opened
from fuzz.texts import TURNOUTS, grown, size, well_formed
from oracle.plans import random_sound, seed_faults
from railbond import inspection
from railbond.circuit.facts import Facts
from railbond.explaining import search
from railbond.explaining.railroads import _railroads
from railbond.findings import Finding
from railbond.inspection import OF_NO_WIRE, inspect
from trackplan.gather import gather

Told = Counter[tuple[str, str, object]]
"""How often each rule finds something, at which level, and where: in which line of the plan as it was first told, or by
its names, where the order of lines says which line of several a finding stands at."""

LONGEST = 60.0
"""Seconds for a pair: two plans that are joined are two plans."""

MEASURED = frozenset(
    [
        "feeders-too-far-apart",
        "wires-unknown",
        "voltage-drop",
        "short-will-not-trip",
        "bus-too-long",
        "wire-too-thin",
        "stalls",
        "single-wheel",
        "unfed-rail",
        "fed-through-points",
    ]
)
"""Rules that may tell of a segment in two what they do not tell of it in one: a joint is a joint, and of a rail that is
dead each piece is told."""


def told(lines: Lines, origin: list[int], leave_out: frozenset[str] = frozenset(), by_names: bool = False) -> Told:
    """What is found, each finding at the line from which its line came, or by its names."""
    text = "\n".join(lines) + "\n"
    whole = inspect(gather(PLAN, opened(text)))
    begins = [0]
    for line in lines:
        begins.append(begins[-1] + len(line) + 1)
    found: Told = Counter()
    for one in whole.findings:
        nth = bisect_right(begins, one.at.start) - 1
        place: object = origin[nth] if nth < len(origin) else nth
        if one.rule not in leave_out:
            found[one.rule, one.level, _named(one) if by_names and one.names else place] += 1
    return found


def _named(finding: Finding) -> tuple[str, ...]:
    """The names of a finding in their order; of a name that nothing bears that one alone: it is told once, at the first
    line that has it, and so with the other names of that line."""
    if finding.rule == "unknown-name":
        return (finding.names[0].partition(".")[0],)
    return tuple(sorted(finding.names))


def are_apart(lines: Lines) -> bool:
    """Whether a plan and its twin are two railroads in one plan. Where some track has no wire nobody knows whose it is:
    all is then explained as one railroad, and of that no more than three slips."""
    gathered = gather(PLAN, opened("\n".join(twice(lines)) + "\n"))
    return len(list(_railroads(Facts(gathered.statements, gathered.sources)))) > 1


@contextmanager
def unhurried() -> Iterator[None]:
    """So much effort for the search of slips that what is told hangs on none: of two plans in one each gets half."""
    with ExitStack() as stack:
        for module, name in ((inspection, "PLENTY"), (inspection, "LAST"), (search, "EFFORT"), (search, "LEAST")):
            stack.enter_context(patch.object(module, name, 6 * getattr(module, name)))
        yield


def readable(make: Callable[[], Lines], is_wanted: Callable[[Lines], bool] = lambda lines: True) -> Lines:
    """A plan all of whose lines read, and all of whose names are known. What may be a name in a line that does not read
    nobody can tell, so it cannot be given another; and a name that nothing bears is held against all that there are, so
    what it is taken for hangs on what else is in the plan."""
    while True:
        gathered = gather(PLAN, opened("\n".join(lines := make()) + "\n"))
        faults = Facts(gathered.statements, gathered.sources).layout.faults if not gathered.broken else ()
        in_doubt = gathered.broken or any(one.rule in NAMES_IN_DOUBT for one in faults)
        if not in_doubt and is_wanted(lines):
            return lines


def plain(dice: Random) -> Lines:
    """A plan of segments and turnouts, with a mistake or two."""
    most = TURNOUTS[size(dice)]
    while True:
        text = random_sound(dice, dice.randint(0, most), quiet=dice.random() < 0.5)
        lines = statements(seed_faults(text, dice.randint(0, 2), dice)[0])
        if is_plain(lines):
            return lines


def compared(kind: str, dice: Random) -> tuple[str, Told, Told]:
    """A plan's text, what it tells, and what it tells when it is said the other way."""
    if kind == "shuffle":
        lines = statements(well_formed(dice, size(dice)))
    elif kind == "rename":
        lines = readable(lambda: statements(well_formed(dice, size(dice))))
    elif kind == "join":
        lines = readable(lambda: without_heads(statements(grown(dice, size(dice)))), are_apart)
    else:
        lines = plain(dice)
    here = list(range(len(lines)))
    text = "\n".join(lines) + "\n"
    if kind == "shuffle":
        one = told(lines, here, by_names=True)
        return text, one, told(*shuffled(lines, dice, contradicted(one, lines), unread(one)), by_names=True)
    if kind == "rename":
        return text, told(lines, here), told(renamed(lines, names_of(lines), lambda name: f"Z{name}"), here)
    if kind == "join":
        with unhurried():
            return text, *_two(lines)
    if kind == "split":
        return text, told(lines, here, MEASURED), told(*split(lines, dice), MEASURED)
    other = turned(lines) if kind == "reverse" else mirrored(lines)
    return text, told(lines, here), told(other, here)


def in_two_orders(one: str, other: str) -> tuple[Told, Told]:
    """What a plan tells, and what it tells with its lines in another order; of like lines each is taken in its turn."""
    numbered = _in_turn(one.splitlines())
    origin = {line: nth for nth, line in enumerate(numbered)}
    back = [origin[line] for line in _in_turn(other.splitlines())]
    here = list(range(len(numbered)))
    return told(one.splitlines(), here, by_names=True), told(other.splitlines(), back, by_names=True)


def _in_turn(lines: Lines) -> list[tuple[str, int]]:
    seen: Counter[str] = Counter()
    found = []
    for line in lines:
        found.append((line, seen[line]))
        seen[line] += 1
    return found


def contradicted(found: Told, lines: Lines) -> set[str]:
    """The names of what several lines say that cannot all be so, or that several give: of these the first counts. Of
    what a line gives that does not read the same may be so and is not told."""
    told = (place for rule, _, place in found if rule in ("impossible", "name-used-twice"))
    names = {name for place in told if isinstance(place, tuple) for name in place}
    return names | {words[1] for nth in unread(found) if len(words := lines[nth].split()) > 1}


def unread(found: Told) -> set[int]:
    """The lines that do not read. What each most likely means is put in its place, and of those that then say the same
    of one thing the first counts."""
    return {place for rule, _, place in found if rule == "syntax" and isinstance(place, int)}


def twice(lines: Lines) -> Lines:
    """A plan twice in one, the second time under other names."""
    return joined(lines, renamed(lines, names_of(lines), lambda name: f"Z{name}"))


def _two(lines: Lines) -> tuple[Told, Told]:
    """What a plan tells, counted twice, and what it tells with its twin."""
    whole = twice(lines)
    gathered = gather(PLAN, opened("\n".join(lines) + "\n"))
    unwired = Facts(gathered.statements, gathered.sources).layout.unwired
    per_plan = PER_PLAN | OF_NO_WIRE if unwired else PER_PLAN
    once = told(lines, list(range(len(lines))), per_plan)
    both = told(whole, [*range(len(lines)), *(lines.index(line) for line in without_plan(lines))], per_plan)
    return Counter({key: 2 * times for key, times in once.items()}), both


NAMES_IN_DOUBT = frozenset({"unknown-name", "name-used-twice"})
PER_PLAN = frozenset({"set-against", "wires-unknown", "name-used-twice", "endplate-crossed"})
"""What is told once of a plan, however often there is a reason; and free names, which are common to both."""


def without_plan(lines: Lines) -> Lines:
    return [line for line in lines if line.split()[0] != "plan"]


KINDS = ("shuffle", "rename", "reverse", "split", "mirror", "join")


def one_pair(seed: int) -> Failure | None:
    """Compares a pair of the kind whose turn it is."""
    return pair(KINDS[seed % len(KINDS)], seed)


def pair(kind: str, seed: int) -> Failure | None:
    """What differs between the two ways of one plan, if anything does."""
    text = ""
    try:
        with at_most(LONGEST):
            text, one, other = compared(kind, Random(seed))
    except (Exception, TooLong) as error:
        return Failure(f"pairs-{kind}", seed, text, f"{type(error).__name__}: {error}")
    if one == other:
        return None
    lost, new = one - other, other - one
    what = f"told one way only: {sorted(lost)}\ntold the other way only: {sorted(new)}\n"
    rules = sorted({key[0] for key in lost + new})
    return Failure(f"pairs-{kind}", seed, text, f"{what}{kind}: {', '.join(rules)}")
