"""The last step of the commands that change plans: show what would change, or change it."""

from __future__ import annotations

from argparse import ArgumentParser
from collections.abc import Collection, Mapping, Sequence
from itertools import islice

from railbond.files import Files
from railbond.mend.difference import unified
from railbond.saying import complain, harmless, say
from trackplan.span import Source

from ._plan import reach_argument

AT_ONCE = 10_000
"""Lines that are said at once."""


def arguments(parser: ArgumentParser) -> None:
    """What every command that changes plans takes."""
    parser.add_argument("paths", nargs="+", metavar="PATH", help="a plan, or a folder of plans (*.trackplan)")
    parser.add_argument("--show", action="store_true", help="show the changes as a unified diff and write nothing")
    reach_argument(parser)


def rewritten(files: Files, texts: Mapping[str, str], show: bool, plans: Sequence[Collection[str]] = ()) -> list[str]:
    """Shows or writes the changed texts, by path; those that were changed, each named. What stands in the way is a
    trouble.

    `plans` names the files of each plan: where one of them was changed on disk meanwhile, all files of its plan are
    left, since what was proven of them together holds no more.
    """
    changed = []
    left = set() if show else _stale(files, texts, plans)
    for path, after in sorted((path, text) for path, text in texts.items() if path not in left):
        before = files.open_text(path)
        if before == after:
            continue
        if show:
            lines = unified(Source(path, before), after)
            while part := "".join(islice(lines, AT_ONCE)):
                say(harmless(part), end="", painted=True)
        if show or _wrote(files, path, before, after):
            changed.append(path)
    return changed


def tell_changed(changed: Sequence[str]) -> None:
    """The files that were changed, each by its name."""
    for path in changed:
        say(f"changed: {path}")


def _stale(files: Files, texts: Mapping[str, str], plans: Sequence[Collection[str]]) -> set[str]:
    """The files to be left, each told as a trouble."""
    from railbond.rewriting import Changed

    changed = {path for path in dict.fromkeys(path for plan in plans for path in plan) if _is_changed(files, path)}
    left = set(changed)
    while more := {path for plan in plans if left & set(plan) for path in plan if path in texts} - left:
        left |= more
    for path in sorted(left & texts.keys() | changed):
        what = "it was" if path in changed else "a file of its plan was"
        files.trouble(path, Changed(0, f"{what} changed meanwhile; run again"), "is left as it is")
    return left


def _is_changed(files: Files, path: str) -> bool:
    from railbond.rewriting import Changed, require

    try:
        require(path, files.open_text(path))
    except Changed:
        return True
    return False


def _wrote(files: Files, path: str, before: str, after: str) -> bool:
    from railbond.rewriting import names_lost, rewrite

    lost = names_lost(path)
    try:
        rewrite(path, before, after)
    except OSError as error:
        files.trouble(path, error, "cannot be written")
        return False
    if lost:
        complain(f"{path}: {lost} other name{'s' * (lost > 1)} of this file (hard links) still lead to the old text")
    return True
