"""Tells which build each turnout may have: where a dead frog does for the plan's engines, and where it must be fed.

Each turnout is tried with its frog dead, the others as they may be. The last lines tell what clearance the standards
leave a wheel at the frog's rails and at the open blade.

Exit status: 0 when every frog that must be fed has power, 1 when some engine stalls on the plan as it is, 2 when the
call cannot be understood or a file cannot be read.
"""

from __future__ import annotations

from argparse import ArgumentParser, Namespace

from railbond.saying import say

from ._plan import facts_of, files_for, plan_argument


def arguments(parser: ArgumentParser) -> None:
    """What the command takes."""
    plan_argument(parser, "a plan with its engines")


def run(options: Namespace) -> int:
    """Tells the choices and gives the exit status."""
    from railbond.circuit.running.answers import running
    from railbond.faces.choices import told

    facts = facts_of(options.path, files_for(options))
    if facts is None:
        return 2
    run = running(facts)
    if not run.engines:
        say("The plan has no engines, and what a turnout may be hangs on them: add `engine` lines, such as")
        say("engine  switcher  left 0 31 62 mm  right 0 31 62 mm  0.4 A")
        return 0
    say(told(run))
    return int(bool(run.stalls))
