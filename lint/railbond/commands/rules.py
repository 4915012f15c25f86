"""Lists the rules, or teaches one.

A lesson says what happens on the railroad, how to find it with a meter and how
to mend it, and shows a plan that fails and one that passes. `railbond rules
cautions` shows what is dangerous about it all. A kind of trackwork, such as
`slip`, has its lesson too: its rails drawn and named. So has every statement of a
plan, and every word of one: `railbond rules feeder`, `railbond rules crossed`.
"""

from __future__ import annotations

import sys
from argparse import ArgumentParser, Namespace

from railbond.faces.teaching import all_cautions, lesson, table
from railbond.faces.text import look_for
from railbond.rules import all_rules
from railbond.rules.rule import Rule
from railbond.saying import say
from railbond.usage import UsageError, near

CAUTIONS = "cautions"
INWARD = ("find", "turn", "cause", "after")
"""What of a rule is nobody else's business."""


def arguments(parser: ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("rule", nargs="?", metavar="RULE", help="a rule, a word of the plan language, or `cautions`")
    parser.add_argument("--as", dest="face", choices=("text", "json"), default="text", help="text unless said")
    parser.add_argument("--construction", metavar="FORM", help="write a built-in form, such as live-frog, rail by rail")


def run(options: Namespace) -> int:
    """Prints the table, a lesson or the cautions."""
    rules = {rule.name: rule for rule in all_rules()}
    width = look_for(sys.stdout).width
    if options.construction is not None:
        say(_construction(options))
    elif options.face == "json":
        say(_json(options, rules))
    elif options.rule is None:
        say(table(rules.values(), width))
    elif options.rule == CAUTIONS:
        say(all_cautions(rules.values(), width))
    elif options.rule in rules:
        say(lesson(rules[options.rule], width))
    else:
        say(_word(options.rule, rules, width))
    return 0


def _json(options: Namespace, rules: dict[str, Rule]) -> str:
    """All rules, or the one that is asked for, with all that they teach, for other programs."""
    import json

    name = options.rule
    if name is not None and name not in rules:
        raise UsageError(f"there is no rule {name!r}{near(name, rules)}")
    asked = rules.values() if name is None else [rules[name]]
    told = [
        {key: value for key, value in rule._asdict().items() if key not in INWARD}
        | {"meter": rule.test, "cautions": rule.cautions}
        for rule in asked
    ]
    return json.dumps(told if name is None else told[0], indent=1)


def _word(word: str, rules: dict[str, Rule], width: int) -> str:
    """The page of a word of the language; a usage error, with what is nearest, where there is none."""
    from railbond.faces.reference import page, words
    from railbond.layout.accepted import FORMER_RULES

    told = page(word, rules.values(), width)
    if told is not None:
        return told
    now = f"; it is called {FORMER_RULES[word]} now" if word in FORMER_RULES else ""
    raise UsageError(f"there is no rule or word {word!r}{now or near(word, [*rules, *words(), CAUTIONS])}")


def _construction(options: Namespace) -> str:
    """A built-in form of trackwork as a statement that tells its rails one by one."""
    from railbond.trackwork import forms, template_for
    from railbond.trackwork.writing import written
    from trackplan.parse import parse

    line = forms().get(options.construction)
    if line is None:
        message = f"there is no form {options.construction!r}{near(options.construction, forms())}"
        raise UsageError(f"{message}; the forms are {', '.join(forms())}")
    statement = parse(str(line))
    return f"# {line}, rail by rail\n{written(str(statement.name), template_for(statement, (), ()))}"  # type: ignore[union-attr]
