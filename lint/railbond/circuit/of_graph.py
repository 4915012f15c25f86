"""What hangs on the rail graph alone: facts that were revised without changing it have it from those before."""

from __future__ import annotations

from collections.abc import Callable
from functools import cached_property, wraps
from typing import Any, TypeVar, cast

Answer = TypeVar("Answer")


def of_graph(work: Callable[[Any], Answer]) -> cached_property[Answer]:
    """A property of facts that hangs on their rail graph, and on how far it is to be proven, and on nothing else. It is
    that of the facts to which these are `alike`, where there are such."""

    @wraps(work)
    def asked(facts: Any) -> Answer:
        return cast(Answer, getattr(facts.alike, work.__name__)) if facts.alike else work(facts)

    return cached_property(asked)
