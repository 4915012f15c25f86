"""What was worked out a moment ago, for whoever draws the same plan again and again while it is typed."""

from __future__ import annotations

from collections.abc import Hashable
from typing import Any, Generic, TypeVar

Question = TypeVar("Question", bound=Hashable)
Answer = TypeVar("Answer")

PICTURES = 8
"""What none of the last so many pictures has asked for is let go of, where answers age."""
_aging: list[Lately[Any, Any]] = []


class Lately(Generic[Question, Answer]):
    """Answers by all that they hang on: the last `most` that were asked for, about twice as many at most. Those that
    age are let go of with the pictures that they were for, so that a day of typing holds no more than the last ones."""

    def __init__(self, most: int, ages: bool = False) -> None:
        self._most = most // PICTURES * 2 if ages else most
        self._kept = PICTURES if ages else 2
        self._turns: list[dict[Question, Answer]] = [{}]
        if ages:
            _aging.append(self)

    def get(self, question: Question) -> Answer | None:
        """What was answered, if that is known still."""
        turns = self._turns
        for turn in turns:
            answer = turn.get(question)
            if answer is not None:
                return answer if turn is turns[0] else self.put(question, answer)
        return None

    def put(self, question: Question, answer: Answer) -> Answer:
        if len(self._turns[0]) >= self._most:
            self.turn_over()
        self._turns[0][question] = answer
        return answer

    def turn_over(self) -> None:
        """Begins to let go of what is not asked for from now on."""
        self._turns = [{}, *self._turns][: self._kept]


def next_picture() -> None:
    """Lets all answers age that do."""
    for one in _aging:
        one.turn_over()
