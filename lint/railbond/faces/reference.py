"""The pages of the plan language: what a statement says, its parts, its rails, and the rules that look at it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

from railbond.layout.limits import LIMITS
from railbond.rules.rule import Rule
from railbond.trackwork import forms as built_in
from railbond.trackwork import lessons
from trackplan.reference import Form, forms, forms_of
from trackplan.tables import KEYWORDS

from .folding import paragraph
from .teaching import trackwork_lesson

INDENT = "    "


def words() -> list[str]:
    """Every word that has a page."""
    return sorted({*KEYWORDS, *LIMITS, *(form.keyword for form in forms()), *lessons()})


def page(word: str, rules: Iterable[Rule], width: int = 80) -> str | None:
    """The page of a statement, of a word of one, or of a limit; None where the language has no such word."""
    own = forms_of(word)
    if not own and word in LIMITS:
        return "\n".join(_limits([word], width))
    sought = re.compile(rf"(?<![\w-]){re.escape(word)}(?![\w-])", re.IGNORECASE)
    said = own or [form for form in forms() if sought.search(_all(form))]
    if not said and word in KEYWORDS:
        said = forms_of("construction")  # whose clauses its lesson tells one by one
    if not said:
        return None
    parts = [*_statement(said, width), *(["\n".join(_limits(list(LIMITS), width))] if word == "limit" else [])]
    kinds = [name for name in dict.fromkeys([word, *(form.keyword for form in said[:1])]) if name in lessons()]
    parts += [_rails(name, width) for name in kinds[:1]]
    return "\n\n".join([*parts, *_asked(sorted({form.keyword for form in said}), list(rules), width)])


def _all(form: Form) -> str:
    return " ".join([form.form, form.says, form.example, *(text for clause in form.clauses for text in clause)])


def _statement(said: Sequence[Form], width: int) -> Iterator[str]:
    for form in said:
        yield paragraph(f"{form.keyword}: {form.says}.", width)
        yield paragraph(form.form, width, first=INDENT, rest=INDENT * 2)
        lines = [_clause(*clause, width) for clause in form.clauses if clause[1]]
        yield "\n".join([f"For instance\n{INDENT}{form.example}", *(["Its parts", *lines] if lines else [])])


def _clause(shown: str, what: str, width: int) -> str:
    head, rest = f"{INDENT}{shown:<26}", " " * 30
    if len(shown) > 25:
        head = paragraph(shown, width, first=INDENT, rest=INDENT * 2) + "\n"
        return head + paragraph(what, width, first=rest, rest=rest)
    return paragraph(what, width, first=head, rest=rest)


def _limits(names: Iterable[str], width: int) -> Iterator[str]:
    """What limits take, what they are unless the plan says, and where that comes from."""
    yield "Limits, with what each is where the plan does not say"
    for name in names:
        bound = LIMITS[name]
        usual = (
            f"as in `limit {name} {bound.example}`"
            if bound.unless_said is not None
            else f"for instance {bound.example}"
        )
        text = f"{name}: {usual}; {bound.source}"
        yield paragraph(text, width, first=INDENT, rest=INDENT * 2)


def _rails(name: str, width: int) -> str:
    own = {form: line for form, line in built_in().items() if line.split()[0] == name}
    return trackwork_lesson(f"The rails of a {name}", lessons()[name], own, width)


def _asked(keywords: Sequence[str], rules: Sequence[Rule], width: int) -> Iterator[str]:
    names = [rule.name for rule in rules if any(asks(rule, keyword) for keyword in keywords)]
    if names:
        text = f"Rules that look at it: {', '.join(names)}. `railbond rules NAME` teaches one."
        yield paragraph(text, width)


def asks(rule: Rule, keyword: str) -> bool:
    """Whether a rule looks at such a statement: its mend changes one, or its summary speaks of it."""
    changed = set(rule.fails.splitlines()) ^ set(rule.passes.splitlines())
    firsts = {line.split(None, 1)[0] for line in changed if line.strip()}
    return keyword in firsts or re.search(rf"\b{re.escape(keyword)}s?\b", rule.summary) is not None
