"""Tells of every district what its wires and rails can bear: drop, short, room to grow, copper.

Worst drop: what the running load (`limit running-load`, else all the plan's engines) loses at the worst place.
Weakest short: the least that a short anywhere draws, beside what opens the breaker for certain. May grow by: so much
track beyond the worst place before the first limit is met.

Exit status: 0 when the table is told, 2 when the call cannot be understood or a file cannot be read.
"""

from __future__ import annotations

import sys
from argparse import ArgumentParser, Namespace

from railbond.saying import say

from ._plan import facts_of, files_for, plan_argument, tell_shorts


def arguments(parser: ArgumentParser) -> None:
    """What the command takes."""
    plan_argument(parser, "a plan whose wires have sizes and lengths")


def run(options: Namespace) -> int:
    """Prints the table."""
    from railbond.faces.power_table import told
    from railbond.faces.text import look_for

    facts = facts_of(options.path, files_for(options))
    if facts is None:
        return 2
    tell_shorts(facts, options.path)
    say(told(facts, look_for(sys.stdout).width))
    return 0
