"""Writes tables.py from plan.lark with Lark: `python -m trackplan.generate`. The only user of Lark.

Importing Lark and building the tables take longer than all the reading of a plan, so whoever changes the
grammar does it once; a test holds tables.py against plan.lark. States are numbered in the order in which they
are reached, so the same grammar always gives the same file.
"""

from __future__ import annotations

import re
import subprocess
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from lark import Lark
from lark.grammar import Rule, Symbol, Terminal
from lark.lexer import PatternStr, TerminalDef
from lark.parsers.lalr_analysis import Shift

HERE = Path(__file__).parent
HEAD = '''"""The parse tables of plan.lark, written by generate.py: do not edit.

PATTERN matches one word of a statement and KEYWORDS are the reserved ones. A rule is its name, its symbols,
and which of them it hands on (None for a part left out). A state maps every symbol that may follow to the
next state, or to ~n where rule n is complete. `<name>` is a rule, `NAME` a kind of word, the rest keywords.
"""
# ruff: noqa: E501

from __future__ import annotations
'''


def build_parser() -> Lark:
    """Lark's own parser of one statement."""
    grammar = (HERE / "plan.lark").read_text(encoding="utf-8")
    return Lark(grammar, start="statement", parser="lalr", lexer="basic", maybe_placeholders=True)


def write_tables() -> str:
    """The text of tables.py."""
    parser = build_parser()
    spelling = {term.name: spell(term) for term in parser.terminals}
    keywords = sorted(word for word in spelling.values() if re.match("[a-z]", word))
    words = [term for term in parser.terminals if is_word(term, parser)]
    groups = [repr("|" * (term != words[0]) + group(term)) for term in words]
    rules = [describe(rule, spelling) for rule in parser.rules]
    return HEAD + "".join([
        constant("PATTERN: str = (", groups, ")"),
        constant("KEYWORDS: frozenset[str] = frozenset({", [f"{word!r}," for word in keywords], "})"),
        constant("RULES: list[tuple[str, tuple[str, ...], tuple[int | None, ...]]] = [", each(rules), "]"),
        constant("STATES: list[dict[str, int]] = [", each(number_states(parser, spelling)), "]"),
    ])  # fmt: skip


def constant(opening: str, lines: list[str], closing: str) -> str:
    return "\n".join(["", opening, *(f"    {line}" for line in lines), closing, ""])


def each(items: Sequence[object]) -> list[str]:
    return [f"{item}," for item in items]


def is_word(term: TerminalDef, parser: Lark) -> bool:
    """Whether PATTERN must tell this terminal: all but the keywords, which are WORDs, and blanks."""
    return term.name not in parser.ignore_tokens and not re.match("[a-z]", spell(term))


def spell(term: TerminalDef) -> str:
    """A keyword or the arrow as typed; any other terminal by its name."""
    return term.pattern.value if isinstance(term.pattern, PatternStr) else term.name


def group(term: TerminalDef) -> str:
    return f"(?P<{term.name}>{term.pattern.to_regexp()})"


def name_of(symbol: Symbol, spelling: dict[str, str]) -> str:
    return spelling[symbol.name] if isinstance(symbol, Terminal) else f"<{symbol.name}>"


def describe(rule: Rule, spelling: dict[str, str]) -> tuple[str, tuple[str, ...], tuple[int | None, ...]]:
    """A rule's name, its symbols, and the places of those that it hands on."""
    kept: list[int | None] = []
    symbols = enumerate(rule.expansion)
    for left_out in rule.options.empty_indices or [False] * len(rule.expansion):
        place, symbol = (None, None) if left_out else next(symbols)
        if symbol is None or not (isinstance(symbol, Terminal) and symbol.filter_out):
            kept.append(place)
    return f"<{rule.origin.name}>", tuple(name_of(one, spelling) for one in rule.expansion), tuple(kept)


def number_states(parser: Lark, spelling: dict[str, str]) -> list[dict[str, int]]:
    """Lark's states, the first one 0 and the others in the order of their first mention."""
    table: Any = parser.parser.parser._parse_table
    order = {table.start_states["statement"]: 0}
    rules = {rule: number for number, rule in enumerate(parser.rules)}
    states = []
    for state in growing(order):
        row: dict[str, int] = {}
        for symbol, (action, target) in sorted(table.states[state].items()):
            name = spelling.get(symbol, symbol if symbol.startswith("$") else f"<{symbol}>")
            row[name] = order.setdefault(target, len(order)) if action is Shift else ~rules[target]
        states.append(row)
    return states


def growing(order: dict[int, int]) -> Iterator[int]:
    """Every key of a dict that grows while it is walked."""
    place = 0
    while place < len(order):
        yield list(order)[place]
        place += 1


if __name__ == "__main__":
    (HERE / "tables.py").write_text(write_tables(), encoding="utf-8")
    subprocess.run([sys.executable, "-m", "trackplan.highlight"], check=True)  # which reads the new tables
