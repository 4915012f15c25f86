"""The plans that a change of some files touches."""

from __future__ import annotations

import os
from collections.abc import Iterable

from railbond.dependents import roots, uses
from railbond.files import Files
from trackplan.gather import normal


def touched(paths: Iterable[str]) -> list[str]:
    """The plans to inspect where `paths` have changed, of those and of all below the folder we are in."""
    changed = [_as_below(path) for path in paths]
    files = Files()
    known = {}
    for plan in files.plans([".", *changed]):
        try:
            known[normal(plan)] = uses(plan, files.open_text(plan))
        except OSError:
            continue  # whoever inspects it will tell
    return roots(changed, known)


def _as_below(path: str) -> str:
    """A whole path as seen from the folder we are in, where it lies below."""
    short = os.path.relpath(path) if os.path.isabs(path) else path
    return normal(path if short.startswith("..") else short)
