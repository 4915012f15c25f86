"""What each rule of plan.lark makes of its parts: a statement, or a part that is more than one word."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from .construction import Clause, EndRail, Wanted
from .metal import METALS
from .quantities import Quantity, share_unit
from .span import Word
from .statements import Statement
from .typed import Any, get_args

Make = Callable[[Sequence[Any]], Any]
CLAUSES: dict[str, Any] = {clause.__name__: clause for clause in (*get_args(Clause), Wanted, EndRail)}
KINDS = {kind.__name__: kind for kind in get_args(Statement)}


class Senseless(Exception):
    """Words that read but mean nothing: where, what is wrong with them, and `among` which words the right one is."""

    def __init__(self, start: int, end: int, message: str, among: tuple[str, ...] = ()) -> None:
        super().__init__(start, end, message)
        self.start, self.end, self.message, self.among = start, end, message, among


def maker(rule: str) -> Make:
    """What builds the result of a rule: of a statement its kind and its parts, whose place nobody knows yet."""
    kind = KINDS.get(rule.title().replace("_", ""))
    if kind is not None:
        return lambda parts: (kind, parts)
    clause = CLAUSES.get(rule.title().replace("_", ""))
    return PARTS.get(rule, only) if clause is None else lambda parts: clause(*parts)


def only(parts: Sequence[Any]) -> Any:
    (part,) = parts
    return part


def above_zero(parts: Sequence[Quantity]) -> Quantity:
    (quantity,) = parts
    if not quantity:
        message = f"`{quantity.text}` is nothing: expected more than zero"
        raise Senseless(quantity.start, quantity.end, message)
    return quantity


def metal(parts: Sequence[Word]) -> Word:
    (word,) = parts
    if word not in METALS:
        message = f"`{word}` is no metal of rails: expected one of {', '.join(METALS)}"
        raise Senseless(word.start, word.end, message, METALS)
    return word


def joined(parts: Sequence[Word]) -> Word:
    """Words that say one thing together, such as `frog rail`."""
    return Word(" ".join(parts), parts[0].start, parts[-1].end, parts[0].lead)


def gathered(parts: Sequence[Any]) -> tuple[Any, ...]:
    """Things in a row: those so far and one more, or the first."""
    *before, last = parts
    return (*(before[0] if before else ()), last)


def listed(parts: Sequence[Any]) -> tuple[Any, ...]:
    """Words in a row, of which all but the last may be in a row already."""
    first, *rest = parts
    return (*(first if isinstance(first, tuple) else (first,)), *rest)


def unquoted(parts: Sequence[Word]) -> Word:
    """A quoted text without its quotes; its place is the text's with them."""
    (text,) = parts
    return Word(text[1:-1], text.start, text.end, text.lead)


def numbers(parts: Sequence[Any]) -> list[Any]:
    """A list with one more number, or a list's first."""
    if len(parts) == 1:
        return [*parts]
    found: list[Any] = parts[0]
    found.append(parts[1])
    return found


def positions(parts: Sequence[Any]) -> tuple[Quantity, ...]:
    *first, last = parts
    try:
        return share_unit(first[0] if first else [], last)
    except ValueError as error:
        raise Senseless(last.start, last.end, str(error)) from None


PARTS: dict[str, Make] = {
    "title": unquoted,
    "file": unquoted,
    "reason": unquoted,
    "legs": tuple,
    "contacts": tuple,
    "supplies": listed,
    "module_names": listed,
    "owner": unquoted,
    "choices": listed,
    "clauses": gathered,
    "wants": gathered,
    "position_names": gathered,
    "rail_names": gathered,
    "quoted_name": unquoted,
    "part_number": above_zero,
    "rail": joined,
    "what": joined,
    "shape": joined,
    "metal": metal,
    "numbers": numbers,
    "positions": positions,
    "length": above_zero,
    "size": above_zero,
    "voltage": above_zero,
    "current": above_zero,
    "rail_code": above_zero,
    "frog_number": above_zero,
    "angle": above_zero,
    "dead_length": above_zero,
    "duration": above_zero,
    "speed": above_zero,
}
