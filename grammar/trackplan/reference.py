"""What plan.lark says of each statement: an example, what it means, its form and its clauses. README's table and the
pages of `railbond rules WORD` are made of it, so that neither can leave a statement out."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path
from typing import NamedTuple

from .mistakes.phrases import PHRASES

_RULE = re.compile(r"^\??(\w+):\s*((?:.*)(?:\n +\|.*)*)", re.MULTILINE)
_TOLD = re.compile(r"^//: (.*)\n((?:// .*\n)+)(\w+):", re.MULTILINE)
_PART = re.compile(r'"[^"]*"|\w+|[\[\]()|]')
ALONE = {"CROSSED": "the two legs swapped at its far end", "FAR_SIDE": "on the other side of the pit"}
"""Keywords that are a part by themselves."""


class Form(NamedTuple):
    """One statement. `clauses` are its parts, each as it is written and what it is."""

    keyword: str
    example: str
    says: str
    form: str
    clauses: tuple[tuple[str, str], ...]


@cache
def forms() -> tuple[Form, ...]:
    """All statements, in the order of plan.lark."""
    text = (Path(__file__).parent / "plan.lark").read_text(encoding="utf-8")
    rules = {name: body for name, body in _RULE.findall(text)}
    terminals = dict(re.findall(r'^([A-Z_]+): "([^"]+)"$', text, re.MULTILINE))
    return tuple(_form(rules, terminals, *told) for told in _TOLD.findall(text))


def forms_of(word: str) -> list[Form]:
    """The statements that begin with a keyword."""
    return [form for form in forms() if form.keyword == word]


def _form(rules: dict[str, str], terminals: dict[str, str], example: str, says: str, name: str) -> Form:
    says = " ".join(line.removeprefix("// ") for line in says.splitlines())
    body = rules[name]
    clauses = dict.fromkeys(_clauses(rules, terminals, body))
    return Form(example.split()[0], example, says, _shown(rules, terminals, body), tuple(clauses))


def _shown(rules: dict[str, str], terminals: dict[str, str], body: str) -> str:
    """A rule as a person would write it: keywords as they are, what is to be filled in in capitals."""
    parts = [_part(rules, terminals, part) for part in _PART.findall(body)]
    text = re.sub(r"([\[(]) | (?=[\])])", lambda one: one[1] or "", " ".join(parts))
    return re.sub(r" \| ", "|", text)


def _part(rules: dict[str, str], terminals: dict[str, str], part: str) -> str:
    if part[0] == '"' or part in "[]()|":
        return part.strip('"')
    if part.isupper():
        return terminals.get(part, part)
    return _choice(rules, terminals, part) or _spelled_out(rules, terminals, part) or part.upper().replace("_", "-")


def _spelled_out(rules: dict[str, str], terminals: dict[str, str], name: str) -> str:
    """A part that begins with a keyword of its own, or is a row of others; else nothing."""
    body = rules[name]
    if name in _PART.findall(body):
        return f"{_shown(rules, terminals, body.rpartition('|')[2])} …"
    return _shown(rules, terminals, body) if body.startswith('"') or body == "leg leg" else ""


def _choice(rules: dict[str, str], terminals: dict[str, str], name: str) -> str:
    """`left|right` for a part that is one of a few words, or the one word that it is; else nothing."""
    words = _PART.findall(rules[name])
    if len(words) == 1:
        return terminals.get(words[0], "")
    fixed = all(word in "[]()|" or word in terminals or word[0] == '"' for word in words)
    return f"({_shown(rules, terminals, rules[name])})" if fixed and "|" in words else ""


def _clauses(rules: dict[str, str], terminals: dict[str, str], body: str) -> list[tuple[str, str]]:
    """Each part of a statement: with the keywords before it, and what it is in the words of the trade."""
    found: list[tuple[str, str]] = []
    before = ""
    for part in _PART.findall(body)[1:]:
        if part in "[]()|":
            before = ""
        elif part[0] == '"':
            before += part.strip('"') + " "
        elif part.isupper():
            found.append((terminals.get(part, part), ALONE.get(part, "")))
        else:
            shown = _part(rules, terminals, part)
            found.append((before + shown, PHRASES.get(part, "").format(kind=body.split()[0].strip('"'))))
            before = ""
    return found
