"""What was worked out a moment ago, for whoever draws the same plan again and again while it is typed."""

from __future__ import annotations

from collections.abc import Hashable
from typing import Generic, TypeVar

Question = TypeVar("Question", bound=Hashable)
Answer = TypeVar("Answer")


class Lately(Generic[Question, Answer]):
    """Answers by all that they hang on: the last `most` that were asked for at least, twice as many at most."""

    def __init__(self, most: int) -> None:
        self._most = most
        self._now: dict[Question, Answer] = {}
        self._before: dict[Question, Answer] = {}

    def get(self, question: Question) -> Answer | None:
        """What was answered, if that is known still."""
        answer = self._now.get(question)
        if answer is None and (answer := self._before.get(question)) is not None:
            self.put(question, answer)
        return answer

    def put(self, question: Question, answer: Answer) -> Answer:
        if len(self._now) >= self._most:
            self._before, self._now = self._now, {}
        self._now[question] = answer
        return answer
