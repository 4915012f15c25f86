"""Ranks the wiring mistakes that explain what was seen at the bench, and names the probe that tells the most next.

What was seen stands in a file, one observation a line:

  beeps   P1.red and siding.right  with T1 diverging
  silent  P1.red and west.left
  trips   main  with T2 diverging
  holds   main
  dies    at T3 diverging
  runs    at siding

Points that are not named stand in their first position (through). Without a file the command asks, probe by probe.

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
    from railbond.bench.diagnosis import Diagnosis
    from railbond.bench.information import Chooser, Next
    from railbond.bench.observation import Observation
    from railbond.circuit.facts import Facts
    from trackplan.span import Source


def arguments(parser: ArgumentParser) -> None:
    """What the command takes."""
    plan_argument(parser, "the plan that was built")
    parser.add_argument("seen", metavar="SEEN", nargs="?", help="what was seen (asked for unless said)")
    parser.add_argument("--two", action="store_true", help="weigh two mistakes at once even where one explains all")


def run(options: Namespace) -> int:
    """Tells the explanations and gives the exit status."""
    facts = facts_of(options.path, files_for(options))
    if facts is None:
        return 2
    tell_shorts(facts, options.path)
    from railbond.bench.diagnosis import Diagnosis

    diagnosis = Diagnosis(facts)
    if options.seen is None:
        return _asking(options, facts, diagnosis)
    source = _read(options.seen)
    if source is None:
        return 2
    observed = _observed(facts, diagnosis, source)
    return 2 if observed is None else _told(options, facts, diagnosis, observed, source)


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


def _observed(facts: Facts, diagnosis: Diagnosis, source: Source) -> list[Observation] | None:
    """The observations of a text; None where a line cannot be understood, which is told."""
    from railbond.bench.observation import Resolver
    from trackplan.seen import read_seen

    seen, broken = read_seen(source)
    resolver = Resolver(facts, diagnosis.points)
    found = [one for one in map(resolver.resolve, seen) if one]
    for one in (*broken, *resolver.broken):
        line, column = source.line_column(one.at.start)
        say(printable(f"{source.path}:{line}:{column}: {one.message}"), to=sys.stderr)
    return None if broken or resolver.broken else found


def _told(options: Namespace, facts: Facts, diagnosis: Diagnosis, observed: list[Observation], source: Source) -> int:
    from railbond.bench.diagnosis import contradictions
    from railbond.faces.diagnosis import contradicted, told

    sources = {**facts.sources, source.path: source}
    against = contradictions(observed)
    if against:
        say(contradicted(against, sources), end="\n\n")
    causes = diagnosis.causes(observed, options.two)
    following = _chooser(facts, diagnosis, observed).best(causes)
    say(told(causes, following, diagnosis.points, sources, bool(observed)))
    return int(bool(against) or causes[0].misses > 0)


def _chooser(facts: Facts, diagnosis: Diagnosis, observed: list[Observation]) -> Chooser:
    """Chooses among the settings of the bench sheet and those that were spoken of."""
    from railbond.bench.information import Chooser
    from railbond.bench.settings import Settings
    from railbond.bench.sheet import is_sound

    settings = Settings(diagnosis.metal, diagnosis.singles, is_sound(facts))
    stands = [settings.first, *settings.stands, *(one.stand for one in observed)]
    return Chooser(diagnosis, list({frozenset(stand.items()): stand for stand in stands}.values()))


def _asking(options: Namespace, facts: Facts, diagnosis: Diagnosis) -> int:
    """Asks probe by probe until the answer is plain, or the asked one has had enough."""
    from railbond.faces.diagnosis import asked, told
    from trackplan.span import Source

    observed: list[Observation] = []
    chooser = _chooser(facts, diagnosis, observed)
    say(told([], None, diagnosis.points, facts.sources, False).partition("\n\n")[0], end="\n\n")
    while True:
        causes = diagnosis.causes(observed, options.two)
        following = chooser.best(causes)
        if following is None:
            break
        say(asked(following, diagnosis.points))
        line = _answer()
        if line is None:
            break
        if line in ("beeps", "silent"):
            observed.append(_probed(following, line))
        else:
            observed += _observed(facts, diagnosis, Source("-", line)) or []
    return _told(options, facts, diagnosis, observed, Source("-", ""))


def _answer() -> str | None:
    """What was typed: `beeps`, `silent`, or an observation in words; None where that was all."""
    try:
        line = input("beeps, silent, what else you saw, or nothing to stop: ").strip() if sys.stdin else ""
    except EOFError:
        return None
    whole = {"b": "beeps", "beep": "beeps", "s": "silent", "y": "beeps", "n": "silent"}.get(line.lower(), line)
    return whole or None


def _probed(following: Next, answer: str) -> Observation:
    from railbond.bench.observation import Observation

    ends = following.one, following.other
    return Observation("beeps", answer == "beeps", dict(following.stand), ends, text=f"{answer} as asked")
