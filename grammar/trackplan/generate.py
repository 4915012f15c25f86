"""Makes made.py of plan.lark: `python -m trackplan.generate`. The only user of Lark.

Lark reads the grammar and writes its parser down as JSON (`lark.tools.serialize`): terminals, rules, and for each
state what every symbol leads to. That becomes one Python file, because importing Lark and building the parser take
longer than all the reading of a plan. It is made when the package is built, and in a checkout when plan.lark has
changed (see tables.py). States are numbered in the order in which they are reached, so the same grammar always
gives the same file.
"""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from collections.abc import Iterable, Iterator, Sequence
from io import StringIO
from os.path import commonprefix
from pathlib import Path
from typing import TYPE_CHECKING, Any

from .checkout import IN_CHECKOUT, REFUSED

if TYPE_CHECKING:
    from lark import Lark

HERE = Path(__file__).parent
MADE = HERE / "made.py"
START = "statement"
REDUCE = 1
"""As Lark writes an action: a rule is complete; 0 is a shift to the next state."""
HEAD = '''"""The parse tables of plan.lark, made by generate.py: do not edit.

PATTERN matches one word of a statement, of the kind of the group that matches, TERMINALS are the patterns of each
kind, and KEYWORDS are those of the language. A rule is its name, its symbols, and which of them it hands on (None
for a part left out). A state maps every symbol that may follow to the next state, or to ~n where rule n is
complete. `<name>` is a rule, `NAME` a kind of word, the rest keywords.
"""

from __future__ import annotations
'''
Row = dict[str, Any]
AMOUNT, GAP = "NUMBER", r"\s*"
"""A number without a unit; and what may stand between it and one."""


def build_parser() -> Lark:
    """Lark's own parser of one statement."""
    from lark import Lark

    grammar = (HERE / "plan.lark").read_text(encoding="utf-8")
    return Lark(grammar, start=START, parser="lalr", lexer="basic", maybe_placeholders=True)


class Serialized:
    """A parser as Lark writes it down. Whatever it holds twice stands in its memo once."""

    def __init__(self, parser: Lark) -> None:
        from lark.tools.serialize import serialize

        out = StringIO()
        serialize(parser, out)  # type: ignore[no-untyped-call]
        whole: Row = json.loads(out.getvalue())
        memo, frontend = whole["memo"], whole["data"]["parser"]
        self.rules: list[Row] = [memo[str(rule["@"])] for rule in whole["data"]["rules"]]
        self.number_of = {rule["@"]: number for number, rule in enumerate(whole["data"]["rules"])}
        self.ignored: list[str] = frontend["lexer_conf"]["ignore"]
        self.terminals: list[Row] = [memo[str(term["@"])] for term in frontend["lexer_conf"]["terminals"]]
        self.symbols: dict[str, str] = frontend["parser"]["tokens"]
        self.states: dict[str, Row] = frontend["parser"]["states"]
        self.start: int = frontend["parser"]["start_states"][START]


def write_tables() -> str:
    """The text of made.py."""
    parser = Serialized(build_parser())
    spelling = {term["name"]: spell(term) for term in parser.terminals}
    keywords = sorted(word for word in spelling.values() if is_keyword(word))
    words = [term for term in parser.terminals if not is_keyword(spell(term)) and term["name"] not in parser.ignored]
    terminals = {term["name"]: pattern_of(term) for term in words}
    rules = [describe(rule, spelling) for rule in parser.rules]
    return HEAD + "".join([
        constant("PATTERN: str = (", map(repr, word_pattern(terminals)), ")"),
        constant("TERMINALS: dict[str, str] = {", [f"{name!r}: {value!r}," for name, value in terminals.items()], "}"),
        constant("KEYWORDS: frozenset[str] = frozenset({", [f"{word!r}," for word in keywords], "})"),
        constant("RULES: list[tuple[str, tuple[str, ...], tuple[int | None, ...]]] = [", each(rules), "]"),
        constant("STATES: list[dict[str, int]] = [", each(number_states(parser, spelling)), "]"),
    ])  # fmt: skip


def constant(opening: str, lines: Iterable[str], closing: str) -> str:
    return "\n".join(["", opening, *(f"    {line}" for line in lines), closing, ""])


def each(items: Sequence[object]) -> list[str]:
    return [f"{item}," for item in items]


def is_keyword(spelled: str) -> bool:
    """Whether PATTERN must not tell this terminal: keywords are read as WORDs first."""
    return re.match("[a-z]", spelled) is not None


def spell(term: Row) -> str:
    """A keyword or the arrow as typed; any other terminal by its name."""
    return str(term["pattern"]["value"] if term["pattern"]["__type__"] == "PatternStr" else term["name"])


def pattern_of(term: Row) -> str:
    pattern = term["pattern"]
    assert not pattern["flags"], f"{term['name']} has flags, which PATTERN cannot give to one group"
    return re.escape(pattern["value"]) if pattern["__type__"] == "PatternStr" else str(pattern["value"])


def word_pattern(terminals: dict[str, str]) -> list[str]:
    """The alternatives of PATTERN. All that is a number with a unit is one of them, with a group for each kind of unit:
    Python compiles and matches that several times faster than as many patterns that all begin with a number."""
    number = terminals[AMOUNT]
    decimal = commonprefix([number, *(value for value in terminals.values() if value.startswith(number[:6]))])
    end, units, others = number[len(decimal) :], list[str](), list[str]()
    for name, value in terminals.items():
        if name != AMOUNT and value.startswith(decimal + GAP) and value.endswith(end):
            units.append(f"(?P<{name}>{value[len(decimal + GAP) : -len(end)]})")
        elif name != AMOUNT:
            others.append(f"(?P<{name}>{value})|")
    return [*others, f"{decimal}(?:{GAP}(?:{'|'.join(units)})|(?P<{AMOUNT}>)){end}"]


def name_of(symbol: Row, spelling: dict[str, str]) -> str:
    return spelling[symbol["name"]] if symbol["__type__"] == "Terminal" else f"<{symbol['name']}>"


def describe(rule: Row, spelling: dict[str, str]) -> tuple[str, tuple[str, ...], tuple[int | None, ...]]:
    """A rule's name, its symbols, and the places of those that it hands on."""
    kept: list[int | None] = []
    symbols = enumerate(rule["expansion"])
    for left_out in rule["options"]["empty_indices"] or [False] * len(rule["expansion"]):
        place, symbol = (None, None) if left_out else next(symbols)
        if symbol is None or not symbol.get("filter_out"):
            kept.append(place)
    return f"<{rule['origin']['name']}>", tuple(name_of(one, spelling) for one in rule["expansion"]), tuple(kept)


def number_states(parser: Serialized, spelling: dict[str, str]) -> list[dict[str, int]]:
    """Lark's states, the first one 0 and the others in the order of their first mention."""
    order = {parser.start: 0}
    states = []
    for state in growing(order):
        row: dict[str, int] = {}
        named = {parser.symbols[number]: action for number, action in parser.states[str(state)].items()}
        for symbol, (kind, target) in sorted(named.items()):
            name = spelling.get(symbol, symbol if symbol.startswith("$") else f"<{symbol}>")
            done = kind == REDUCE
            row[name] = ~parser.number_of[target["@"]] if done else order.setdefault(target, len(order))
        states.append(row)
    return states


def growing(order: dict[int, int]) -> Iterator[int]:
    """Every key of a dict that grows while it is walked."""
    place = 0
    while place < len(order):
        yield list(order)[place]
        place += 1


def make() -> None:
    """Writes made.py; whoever reads it meanwhile has the old one whole or the new one."""
    beside = MADE.with_suffix(f".{os.getpid()}")
    beside.write_text(write_tables(), encoding="utf-8")
    beside.replace(MADE)


if __name__ == "__main__":
    if not IN_CHECKOUT:
        sys.exit(REFUSED)
    make()
    subprocess.run([sys.executable, "-m", "trackplan.coloring"], check=True)  # which reads the new tables
