"""The plans that a change of some files touches, and those that git tracks."""

from __future__ import annotations

import os
from argparse import Namespace
from collections.abc import Iterable, Mapping
from typing import NamedTuple

from railbond.dependents import Uses, roots, uses
from railbond.files import Files
from railbond.reach import FolderBounds
from railbond.tracked import Tracked, tracked_here
from railbond.usage import UsageError
from trackplan.gather import normal


class Touched(NamedTuple):
    """Plans to look at, and where they are read from."""

    files: Files
    plans: list[str]


def all_tracked(options: Namespace) -> Touched:
    """Every plan that git tracks, as it is on disk; one that others include within them."""
    repository = tracked_here()
    if repository is None:
        raise UsageError("expected a plan or a folder; only inside of a git repository all that it tracks is meant")
    files = Files(reach=FolderBounds([*options.reach, repository.top]))
    plans = list(files.plans(repository.plans))
    return Touched(files, _roots(plans, _known(plans, files)))


def touched(options: Namespace, paths: Iterable[str]) -> Touched:
    """The plans to inspect where `paths` have changed: of those, and of all that git tracks (outside of a repository of
    all below the folder we are in). With them every plan that names a file which is not to be had.

    What git tracks is read as it is staged, but for `paths` themselves, which are read from disk.
    """
    changed = [_as_below(path) for path in Files().plans(paths)]
    repository = tracked_here()
    looking = _reading(options, repository, changed)
    around = ["."] if repository is None else repository.plans
    known = _known([normal(path) for path in looking.plans([*around, *changed])], looking)
    lost = [path for path, used in known.items() if any(_is_lost(file, known, looking) for file in used.all)]
    return Touched(_reading(options, repository, changed), _roots([*changed, *lost], known))


def _reading(options: Namespace, repository: Tracked | None, changed: list[str]) -> Files:
    """Reads from disk, or in a repository what is staged of all plans but those that have changed; what git does not
    know no plan may then lead to."""
    if repository is None:
        bounds = FolderBounds(options.reach)
        bounds.allow(os.curdir)
        return Files(reach=bounds)
    bounds = FolderBounds([*options.reach, repository.top])
    bounds.only(repository.top, [*repository.plans, *changed])
    return Files(repository.staged(path for path in repository.plans if normal(path) not in changed), bounds)


def _known(plans: Iterable[str], files: Files) -> dict[str, Uses]:
    """What each plan names."""
    known = {}
    for plan in plans:
        try:
            known[normal(plan)] = uses(plan, files.open_text(plan))
        except OSError:
            continue  # whoever inspects it will tell
    return known


def _is_lost(file: str, known: Mapping[str, Uses], files: Files) -> bool:
    """Whether a file that some plan names cannot be read."""
    if file in known:
        return False
    try:
        files.open_text(file)
    except OSError:
        return True
    return False


def _roots(changed: Iterable[str], known: Mapping[str, Uses]) -> list[str]:
    found = list(changed)
    return roots(found, known) if found else []


def _as_below(path: str) -> str:
    """A whole path as seen from the folder we are in, where it lies below."""
    short = os.path.relpath(path) if os.path.isabs(path) else path
    return normal(path if short.startswith("..") else short)
