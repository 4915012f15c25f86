"""Finds the wiring mistake that explains what was seen at the bench, probe by probe, to the one wire.

What was seen stands in a file, one observation a line:

  beeps   P1.red and siding.right  with T1 diverging
  silent  P1.red and west.left  without P2, west at 45 cm
  trips   main  with T2 diverging
  trips   at T1 through
  holds   main
  dies    at T3 diverging
  runs    at siding
  runs    backwards in yard
  lamp dim at end
  detector of span always on
  mended

Points that are not named stand in their first position (through); what stands after `without` was off.
What stands before `mended` counts no more. Without a file the command asks, probe by probe: it may ask to take a wire
off first, and to put it back later. It ends in one mistake, in several that no measurement can tell apart, or in the
railroad being as the plan says; once something was mended, it looks whether there is another mistake.

Exit status: 0 when explanations are told, 1 when observations contradict one another or nothing fits them, 2 when the
call cannot be understood or a file cannot be read.
"""

from __future__ import annotations

import sys
from argparse import ArgumentParser, Namespace
from typing import TYPE_CHECKING

from railbond.saying import printable, say

from ._plan import facts_of, files_for, plan_argument, tell_shorts, tell_troubles

if TYPE_CHECKING:
    from railbond.bench.fault_search import FaultSearch, NextMove
    from railbond.bench.observation import Observation
    from railbond.circuit.facts import Facts
    from trackplan.span import Source


def arguments(parser: ArgumentParser) -> None:
    """What the command takes."""
    plan_argument(parser, "the plan that was built")
    parser.add_argument("seen", metavar="SEEN", nargs="?", help="what was seen (asked for unless said)")
    parser.add_argument("--two", action="store_true", help="weigh two mistakes at once even where one explains all")
    parser.add_argument(
        "--all", action="store_true", dest="every", help="tell every explanation, not the likeliest only"
    )


def run(options: Namespace) -> int:
    """Tells the explanations and gives the exit status."""
    facts = facts_of(options.path, files_for(options))
    if facts is None:
        return 2
    tell_shorts(facts, options.path)
    from railbond.bench.fault_search import FaultSearch

    search = FaultSearch(facts, options.two)
    if options.seen is None:
        return _asking(options, facts, search)
    source = _read(options.seen)
    if source is None:
        return 2
    observed = _observed(search, source)
    if observed is None:
        return 2
    for one in observed:
        search.see(one)
    return _told(options, facts, search, search.step(), source)


def _read(path: str) -> Source | None:
    from railbond.files import Files
    from trackplan.span import Source

    files = Files()
    try:
        source = Source(path, files.open_text(path))
    except OSError as error:
        files.trouble(path, error)
    tell_troubles(files)
    return None if files.troubles else source


def _observed(search: FaultSearch, source: Source) -> list[Observation] | None:
    """The observations of a text; None where a line cannot be understood, which is told."""
    from trackplan.seen import read_seen

    seen, broken = read_seen(source)
    resolver = search.resolver
    resolver.broken = []
    found = [one for one in map(resolver.resolve, seen) if one]
    for one in (*broken, *resolver.broken):
        line, column = source.line_column(one.at.start)
        say(printable(f"{source.path}:{line}:{column}: {one.message}"), to=sys.stderr)
    return None if broken or resolver.broken else found


def _told(options: Namespace, facts: Facts, search: FaultSearch, step: NextMove, source: Source) -> int:
    from railbond.bench.diagnosis import contradictions
    from railbond.faces.diagnosis import contradicted, told

    sources = {**facts.sources, source.path: source}
    against = contradictions(search.observed)
    if against:
        say(contradicted(against, sources), end="\n\n")
    say(told(search, step, sources, options.every))
    return int(bool(against) or step.fitting[0].misses > 0)


def _asking(options: Namespace, facts: Facts, search: FaultSearch) -> int:
    """Asks probe by probe until there is an end, or the asked one has had enough."""
    from railbond.faces.cautions import METER
    from railbond.faces.diagnosis import again, asked, begin, told
    from railbond.faces.schedule import cautions
    from trackplan.span import Source

    say("\n".join([*cautions(METER[:2]), "", begin(search)]))
    while True:
        step = search.step()
        if step.end in ("sound", "unexplained"):
            break
        if step.end:
            say(told(search, step, facts.sources, options.every))
            if _typed("mended, once it is put right and all is put back, or nothing to stop: ") != "mended":
                return 0
            search.mend(step)
            continue
        if step.following:
            say("\n".join(asked(search, step.following, step)))
        elif step.again:
            say(again(search, step.again))
        line = _answer()
        if line is None:
            break
        if line in ("beeps", "silent"):
            search.answer(step, line == "beeps")
        else:
            for one in _observed(search, Source("-", line)) or []:
                search.see(one)
    return _told(options, facts, search, step, Source("-", ""))


def _answer() -> str | None:
    """What was typed: `beeps`, `silent`, or an observation in words; None where that was all."""
    line = _typed("beeps, silent, what else you saw (? tells the ways), or nothing to stop: ")
    if line == "?":
        from trackplan.seen import FORMS

        say("\n".join(f"  {form}" for form in FORMS.values()))
        return _answer()
    short = {"b": "beeps", "beep": "beeps", "s": "silent", "y": "beeps", "n": "silent", "yes": "beeps", "no": "silent"}
    return short.get(line.lower(), line) or None


def _typed(question: str) -> str:
    try:
        return input(question).strip() if sys.stdin else ""
    except EOFError:
        return ""
