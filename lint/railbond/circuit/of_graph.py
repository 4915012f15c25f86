"""What hangs on the rail graph alone: facts that were revised without changing it have it from those before."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import cached_property, wraps

from trackplan.typed import Any, TypeVar, cast

Answer = TypeVar("Answer")


def of_graph(work: Callable[[Any], Answer]) -> cached_property[Answer]:
    """A property of facts that hangs on their rail graph, and on how far it is to be proven, and on nothing else. It is
    that of the facts to which these are `alike`, where there are such."""

    @wraps(work)
    def asked(facts: Any) -> Answer:
        return cast(Answer, getattr(facts.alike, work.__name__)) if facts.alike else work(facts)

    return cached_property(asked)


def of_proof(work: Callable[[Any], Answer]) -> cached_property[Answer]:
    """A property of facts that hangs on their proof, and on nothing else. It is that of the nearest facts before that
    have the same proof, where there are such."""

    @wraps(work)
    def asked(facts: Any) -> Answer:
        same = next((one for one in befores(facts) if one.proof is facts.proof), None)
        return cast(Answer, getattr(same, work.__name__)) if same else work(facts)

    return cached_property(asked)


def of_track(work: Callable[[Any], Answer]) -> cached_property[Answer]:
    """A property of facts that hangs on which metals meet, and on nothing else: not on wires. It is that of the facts
    that these were revised from, where the same ones do."""

    @wraps(work)
    def asked(facts: Any) -> Answer:
        known = facts.before
        is_same = known and known.graph.names is facts.graph.names and known.wiring.first is facts.wiring.first
        is_same = is_same and known.layout.meetings is facts.layout.meetings
        return cast(Answer, getattr(known, work.__name__)) if is_same else work(facts)

    return cached_property(asked)


def befores(facts: Any) -> Iterator[Any]:
    """The facts that these were revised from, and those from which these were, the nearest first."""
    while facts := facts.before:
        yield facts


def of_same_graph(facts: Any) -> Any:
    """The nearest facts that these were revised from, or those were, in which the rail graph is this one."""
    return next((one for one in befores(facts) if one.graph is facts.graph and one.budget == facts.budget), None)


def typed_before(facts: Any) -> Any:
    """The facts of the plan before somebody typed at it, where nothing in the rail graph has changed, or where what has
    is taken back in the head; None where there are none such."""
    alike = facts.alike
    while alike and alike.made:
        alike = alike.alike
    return alike


def proven_before(facts: Any) -> Any:
    """The same where nothing has changed but what feeders solder where, and all that is proven is so still."""
    known = None if facts.made else next((one for one in befores(facts) if one.proof is facts.proof), None)
    if not known or known.layout.faults or facts.layout.faults:
        return None
    pairs = zip(facts.layout._fields, known.layout, facts.layout, strict=True)
    is_same = all(one is other for name, one, other in pairs if name not in ("drops", "faults", "desk"))
    return known if is_same else None


def known_before(facts: Any, what: str) -> Any:
    """What was worked out of those, if it was."""
    known = None if facts.made else facts.alike
    return known.__dict__.get(what) if known else None


def made_of(facts: Any, what: str) -> Any:
    """What was worked out of the plan that was changed in the head to make this one, if it was."""
    return facts.before.__dict__.get(what) if facts.made and facts.before else None


def rewired_before(facts: Any, what: str) -> Any:
    """What was worked out of the plan before somebody typed at it, if it was, where the same pieces meet and as many
    drops are soldered, wherever they come from."""
    known = None if facts.made else facts.before
    if not known or known.wiring.first is not facts.wiring.first or known.layout.meetings is not facts.layout.meetings:
        return None
    kinds = ((one.layout.drops, one.layout.runs) for one in (known, facts))
    return known.__dict__.get(what) if len({tuple(map(len, one)) for one in kinds}) == 1 else None


def owners_of(facts: Any) -> tuple[str, ...]:
    """The name of each conductor's piece; empty for a wire. Of the same conductors it is that of the facts before."""
    known = facts.before
    if known and known.graph.names is facts.graph.names and known.wiring.first is facts.wiring.first:
        return cast(tuple[str, ...], known.owners)
    return cast(tuple[str, ...], facts.wiring.owners)


def settle(facts: Any) -> None:
    """Lets go of the facts that these were revised from, once all is worked out that may be taken over from them: the
    next ones would hold all that ever were."""
    facts.__dict__["before"] = None
    facts.__dict__.pop("alike", None)
    for known in (facts.__dict__.get(name) for name in ("proof", "turning", "power")):
        if known:
            known.before = None
    if power := facts.__dict__.get("power"):
        power.beside = None
