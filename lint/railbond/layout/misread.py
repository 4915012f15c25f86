"""How a statement of track is most easily written the wrong way round: its arrow, hand, build and legs."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from trackplan.amend import set_word
from trackplan.edit import Edit
from trackplan.span import Word
from trackplan.statements import ClosureBond, Cut, Joint, Segment, Statement, Stub, Turnout

HANDS = {"left": "right", "right": "left", "curved left": "curved right", "curved right": "curved left"}
OF_BUILDS: tuple[type[Statement], ...] = (Turnout, ClosureBond, Cut)
"""The kinds of lines that say of what build turnouts are, and what has been done to them."""
OF_ENDS: tuple[type[Statement], ...] = (Segment, Joint)
"""The kinds of lines that say where track meets."""
ARMS = {"wye": ("left", "right")}


def arrow_turned(statement: Statement) -> tuple[Edit, ...]:
    """A segment written from its other end; nothing for any other statement."""
    if not isinstance(statement, Segment):
        return ()
    start, finish = statement.start, statement.finish
    return set_word(statement, start, str(finish)), set_word(statement, finish, str(start))


def other_hand(statement: Statement) -> tuple[Edit, str] | None:
    """A turnout of the other hand, and that hand; None where there is no such thing."""
    if not isinstance(statement, (Turnout, Stub)) or statement.hand not in HANDS:
        return None
    hand = HANDS[statement.hand]
    return set_word(statement, statement.hand, hand), hand


def other_build(statement: Statement, statements: Iterable[Statement]) -> tuple[Edit, str] | None:
    """A turnout of the build that all the others have, and that build; None where it has it, or has been worked on as
    its own build allows: bonds alone short a live frog."""
    if not isinstance(statement, Turnout):
        return None
    others, works = set[str](), list[Statement]()
    for one in statements:
        if isinstance(one, Turnout) and one.name != statement.name:
            others.add(str(one.build))
        if isinstance(one, (ClosureBond, Cut)) and one.turnout == statement.name:
            works.append(one)
    is_cut = any(isinstance(one, Cut) for one in works)
    is_misfit = is_cut != (statement.build == "live-frog")
    if (works and not is_misfit) or len(others) != 1 or statement.build in others:
        return None
    (build,) = others
    return set_word(statement, statement.build, build), build


def legs(statement: Statement) -> tuple[str, str] | None:
    """The ends of a turnout's two legs, such as `T1.left` and `T1.right` of a wye."""
    if not isinstance(statement, (Turnout, Stub)):
        return None
    one, other = ARMS.get(statement.hand, ("through", "diverging"))
    return f"{statement.name}.{one}", f"{statement.name}.{other}"


def legs_exchanged(statement: Statement, statements: Iterable[Statement]) -> Iterator[Edit]:
    """Each mention of one leg of a turnout, where track meets it, as the other one."""
    pair = legs(statement)
    for one, word in ends_named(statements) if pair else ():
        if pair and word in pair and one.at.path == statement.at.path:
            yield set_word(one, word, pair[word == pair[0]])


def ends_named(statements: Iterable[Statement]) -> Iterator[tuple[Statement, Word]]:
    """Each mention of an end or a joint where track meets it, and its line."""
    for one in statements:
        if isinstance(one, (Segment, Joint)):
            yield from ((one, word) for word in ((one.start, one.finish) if isinstance(one, Segment) else one[1:3]))
