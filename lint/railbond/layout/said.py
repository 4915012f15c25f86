"""What a piece's statement says in so many words, for those who tell it or put other words there."""

from __future__ import annotations

from trackplan.quantities import Quantity
from trackplan.span import Word
from trackplan.statements import Crossing, Segment, Turnout

from .model import Piece


def arrow(piece: Piece) -> tuple[str, str] | None:
    """From where to where plain track is looked along, in the plan's words; None for any other."""
    statement = piece.statement
    return (str(statement.start), str(statement.finish)) if isinstance(statement, Segment) else None


PART_OF = ", part of: "
"""What comes before the line of something that is bought whole and stands for several pieces."""


def line(piece: Piece, words: str) -> str:
    """The piece's own line, which is `words`; of a part of what stands for several pieces, a line as it would have."""
    statement, name = piece.statement, piece.name.rpartition(".")[2]
    if words.split()[1:2] == [name] or not isinstance(statement, Turnout | Crossing):
        return words
    if isinstance(statement, Crossing):
        return f"crossing {name} {statement.angle:.3g} degrees {statement.build}{PART_OF}{words}"
    number = f" number {statement.number.text}" if statement.number is not None else ""
    return f"turnout {name} {statement.hand}{number} {statement.build}{PART_OF}{words}"


def said(piece: Piece, part: str) -> Word | Quantity | None:
    """A part of the statement, such as `build` or `dead`; None where it does not say it."""
    word: Word | Quantity | None = getattr(piece.statement, part, None)
    return word
