"""What stands behind a word: what feeds a rail in which setting, and what polarity it has there."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from lsprotocol.types import Hover, HoverParams, MarkupContent, MarkupKind

from railbond.circuit.facts import Facts
from railbond.circuit.graph import SupplyLeg as Feed
from railbond.circuit.plain_words import setting_said
from railbond.layout.limits import LIMITS
from railbond.layout.model import Piece, Supply
from railbond.rules import all_rules
from railbond.saying import harmless
from trackplan.read import QUOTED_OR_COMMENT, without_comments
from trackplan.span import Word
from trackplan.statements import Accept, Booster, Limit, Statement, where

from .hanging import booster_feeds, hangs_on
from .keywords import meaning
from .lessons import lesson_uri
from .names import Use
from .store import OpenPlan
from .view import View

MOST_RAILS = 24
_WORDS = re.compile(r"[^\W\d][\w.-]*")
MOST_WAYS = 8


def hover(view: View, params: HoverParams) -> Hover | None:
    """What is known of the word at a place; nothing where nothing is."""
    offset, plan = view.offset(params.position), view.plan
    use = plan.scope.at(view.path, offset)
    if use:
        lines = list(_of_name(plan, use, _whole_word(use, offset)))
    else:
        lines = list(_of_the_language(plan, view.path, offset)) or list(_of_a_word(view, offset))
    if not lines:
        return None
    content = MarkupContent(MarkupKind.Markdown, harmless("\n".join(lines)))
    return Hover(content, view.places.span(view.source, use.at) if use else None)


def _whole_word(use: Use, offset: int) -> str:
    """The whole dotted word that a name is part of: `T1.through`."""
    for part in use.statement[1:]:
        for word in part if isinstance(part, tuple) else (part,):
            if isinstance(word, Word):
                at = where(use.statement, word)
                if at.start <= offset <= at.end:
                    return str(word)
    return use.name.text


def _of_name(plan: OpenPlan, use: Use, word: str) -> Iterator[str]:
    facts, name = plan.facts, use.name.text
    statement = plan.scope.defined.get(use.name)
    if statement:
        yield from (f"`{' '.join(_typed(plan, statement).split())}`", "")
    layout = facts.layout
    if name in layout.pieces:
        yield from rails(facts, layout.pieces[name], word)
    elif name in layout.supplies:
        yield _supply(layout.supplies[name])
        yield from hangs_on(facts, name)
    elif name in layout.terminals:
        yield _terminal(facts, name)
        yield from hangs_on(facts, name)
    elif isinstance(statement, Booster):
        yield from booster_feeds(facts, name)
    elif name in layout.edges and (end := layout.edges[name].end):
        yield f"the edge that {end} reaches"
        yield from rails(facts, layout.pieces[end.piece], str(end))
    elif meeting := next((one for one in layout.meetings if one.name == name), None):
        cut = ", ".join(f"{side} rail cut" for side in meeting.gaps) or "no rail cut"
        yield f"the joint of {meeting.one} and {meeting.other}; looking out of {meeting.one}: {cut}"


def _typed(plan: OpenPlan, statement: Statement) -> str:
    at = statement.at
    return plan.source(at.path).text[at.start : at.end]


def rails(facts: Facts, piece: Piece, word: str) -> Iterator[str]:
    """Each rail of a piece, or those of one of its ends, with what feeds it in which setting."""
    end = piece.template.ends.get(word.removeprefix(f"{piece.name}."))
    if end:
        yield f"looking out of {word}:"
        metals = [(f"left rail, {piece.template.metals[end.left].words}", end.left)]
        metals.append((f"right rail, {piece.template.metals[end.right].words}", end.right))
    else:
        metals = [(_words(piece, index), index) for index in range(len(piece.template.metals))]
    for words, index in metals[:MOST_RAILS]:
        yield f"- {words}: {carried(facts, facts.wiring.metal(piece.name, index))}"


def _words(piece: Piece, index: int) -> str:
    metal = piece.template.metals[index]
    part = f" ({metal.start:g} to {metal.stop:g} m)" if piece.template.links else ""
    return f"{metal.words}{part}"


def carried(facts: Facts, conductor: int) -> str:
    """What a conductor carries, and in which setting."""
    ways = facts.proof.reachable(conductor)
    if not ways:
        return "dead in every setting"
    told = sorted({f"{polarity(facts, way.source)}{_when(facts, way.setting)}" for way in ways})
    return "; ".join(told[:MOST_WAYS]) + ("; …" if len(told) > MOST_WAYS else "")


def _when(facts: Facts, setting: Iterable[tuple[str, str]]) -> str:
    words = setting_said(facts, setting)
    return f" with {words}" if words else ""


def polarity(facts: Facts, source: Feed) -> str:
    """A source as the plan writes it, with its polarity."""
    if source.kind == "unit":
        return f"{facts.leg(source)} (whichever is wanted)"
    sign = "turns" if source.kind == "reverser" else "−" if source.leg else "+"
    return f"{facts.leg(source)} ({sign})"


def _supply(supply: Supply) -> str:
    legs = " and ".join(supply.legs)
    if supply.kind == "reverser":
        return f"a reverser: {legs} change places when a wheel asks"
    return f"legs {supply.legs[0]} (+) and {supply.legs[1]} (−)"


def _terminal(facts: Facts, name: str) -> str:
    supplies = ", ".join(sorted(facts.supply_of_wire.get(name, frozenset()) - {name})) or "nothing"
    return f"fed by {supplies}; legs {' and '.join(facts.layout.legs_of(name))}"


def _of_a_word(view: View, offset: int) -> Iterator[str]:
    """What a keyword means, with a link to its lesson; nothing within a comment, a quoted text or a name."""
    source = view.source
    line = source.line_of(offset)
    text, at = without_comments(source.line_text(line)), offset - source.starts[line]
    text = QUOTED_OR_COMMENT.sub(lambda quoted: " " * len(quoted[0]), text)
    for found in _WORDS.finditer(text):
        if found.start() <= at <= found.end() and (says := meaning(found[0])):
            word, uri = found[0], lesson_uri(found[0])
            more = f"[{word}]({uri}) tells more" if uri else f"`railbond rules {word}` tells more"
            yield f"`{word}`: {says}. {more}."


def _of_the_language(plan: OpenPlan, path: str, offset: int) -> Iterator[str]:
    """A rule's or a limit's name, which is no name of the plan."""
    for one in plan.gathered.readings[path].statements:
        if isinstance(one, Accept | Limit) and one.at.start <= offset <= one.at.end:
            at = where(one, one.rule if isinstance(one, Accept) else one.name)
            if at.start <= offset <= at.end:
                yield from _rule(one.rule) if isinstance(one, Accept) else _limit(one.name)


def _rule(name: str) -> Iterator[str]:
    return (line for rule in all_rules() if rule.name == name for line in (rule.summary, "", rule.railroad))


def _limit(name: str) -> Iterator[str]:
    return (f"such as `limit {name} {LIMITS[name].example}`" for _ in range(name in LIMITS))
