"""Rules of a club's own, from other distributions, by their entry points of the group `railbond.rules`.

An entry point names a module that holds `RULES`, as those of this folder do, or such a tuple itself. One that
cannot be loaded is told in every plan, by its name.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Collection, Iterable, Iterator

from railbond.findings import Found, Level
from trackplan.typed import TYPE_CHECKING, Any

from .asking import failure
from .rule import Rule

if TYPE_CHECKING:
    from importlib.metadata import EntryPoint

    from railbond.circuit.facts import Facts

FAILED: Level = "warning"
"""How bad it is that a plug-in is missing: nobody knows what it would have found."""

GROUP = "railbond.rules"
INSTALLED = (".dist-info", ".egg-info")


def plugged_in(taken: Collection[str]) -> Iterator[Rule]:
    """The rules of all plug-ins; `taken` are the names that are not to be had."""
    names = set(taken)
    try:
        found = points()
    except Exception as error:  # what some package says of itself cannot be read
        from importlib.metadata import EntryPoint

        yield _stand_in(EntryPoint("plug-ins", "", GROUP), error)
        return
    for point in found:
        for rule in _loaded(point, names):
            names.add(rule.name)
            yield rule


def points() -> list[EntryPoint]:
    """Where the plug-ins say that their rules are. Raises whatever stands in the way of knowing that."""
    if not are_there_any(sys.path):
        return []
    from importlib.metadata import entry_points

    return sorted(entry_points(group=GROUP), key=lambda one: (one.name, one.value))


def are_there_any(folders: Iterable[str]) -> bool:
    """Whether some distribution has such an entry point: a look at the files, since `importlib.metadata` takes as
    long to load as half of an inspection."""
    return any(GROUP.encode() in text for folder in folders for text in _entry_points(folder or "."))


def _entry_points(folder: str) -> Iterator[bytes]:
    try:
        names = os.listdir(folder)
    except OSError:
        return
    for name in names:
        if name.endswith(INSTALLED):
            try:
                with open(os.path.join(folder, name, "entry_points.txt"), "rb") as file:
                    yield file.read()
            except OSError:
                continue


def _loaded(point: EntryPoint, taken: Collection[str]) -> tuple[Rule, ...]:
    """A plug-in's rules, or in their stead one that tells why they are not to be had."""
    try:
        loaded = point.load()
        rules = tuple(getattr(loaded, "RULES", loaded))
        _check(rules, taken)
    except (Exception, SystemExit) as error:
        return (_stand_in(point, error),)
    return rules


def _check(rules: tuple[Any, ...], taken: Collection[str]) -> None:
    if not rules:
        raise ValueError("it holds no rule")
    for rule in rules:
        if not isinstance(rule, Rule):
            raise TypeError(f"it holds {rule!r}, which is no Rule")
        if not isinstance(rule.turn, int) or not callable(rule.find):
            raise TypeError(f"{rule.name} has no turn that is a whole number, or no function to ask")
        if rule.name in taken:
            raise ValueError(f"there is a rule {rule.name} already")
    if len({rule.name for rule in rules}) < len(rules):
        raise ValueError("two of its rules have one name")


def _stand_in(point: EntryPoint, error: BaseException) -> Rule:
    """A rule that finds in every plan that a plug-in is missing."""
    whose = f" of {point.dist.name} {point.dist.version}" if point.dist else ""
    return Rule(
        point.name,
        FAILED,
        "on paper",
        0,
        False,
        _telling(f"the plug-in {point.name}{whose} cannot be used", error),
        f"The plug-in {point.name}{whose}, which cannot be used ({type(error).__name__}: {error}).",
        "What its rules would have found is not known.",
        "No meter finds this: it is a fault of the plug-in, not of the railroad.",
        "Tell whoever wrote the plug-in, or uninstall it.",
        "",
        "",
    )


def _telling(what: str, error: BaseException) -> Callable[[Facts], Iterable[Found]]:
    return lambda facts: [failure(what, error, facts)]
