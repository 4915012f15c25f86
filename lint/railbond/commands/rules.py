"""Lists the rules, or teaches one.

A lesson says what happens on the railroad, how to find it with a meter and how
to mend it, and shows a plan that fails and one that passes. `railbond rules
cautions` shows what is dangerous about it all.
"""

from __future__ import annotations

import sys
from argparse import ArgumentParser, Namespace

from railbond.faces.teaching import all_cautions, lesson, table
from railbond.faces.text import look_for
from railbond.rules import all_rules

from ._near import near

CAUTIONS = "cautions"


def arguments(parser: ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("rule", nargs="?", metavar="RULE", help="the rule to teach, or `cautions`")
    parser.set_defaults(refuse=parser.error)


def run(options: Namespace) -> int:
    """Prints the table, a lesson or the cautions."""
    rules = {rule.name: rule for rule in all_rules()}
    width = look_for(sys.stdout).width
    if options.rule is None:
        print(table(rules.values(), width))
    elif options.rule == CAUTIONS:
        print(all_cautions(rules.values(), width))
    elif options.rule in rules:
        print(lesson(rules[options.rule], width))
    else:
        options.refuse(f"there is no rule {options.rule!r}{near(options.rule, [*rules, CAUTIONS])}")
    return 0
