"""What is worked out of facts once, however many ask.

Facts never change, so an answer that hangs on them alone is kept with them and goes when they go. Whoever has such a
question, in whatever room, puts `once` before it; nothing else need know.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import TYPE_CHECKING, TypeVar, cast

if TYPE_CHECKING:
    from .facts import Facts

Answer = TypeVar("Answer")


def once(work: Callable[[Facts], Answer]) -> Callable[[Facts], Answer]:
    """A question to facts that is worked out when it is first asked of them. Its answer is shared and is not to be
    changed; it may hang on neither `live` nor `with_fixes`, of which there are several to the same facts."""

    @wraps(work)
    def asked(facts: Facts) -> Answer:
        if work not in facts.kept:
            facts.kept[work] = work(facts)
        return cast(Answer, facts.kept[work])

    return asked
