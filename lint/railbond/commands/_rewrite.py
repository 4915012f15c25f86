"""The last step of the commands that change plans: show what would change, or change it."""

from __future__ import annotations

import sys
from argparse import ArgumentParser
from collections.abc import Mapping

from railbond.files import Files
from railbond.mend.difference import unified
from trackplan.span import Source


def arguments(parser: ArgumentParser) -> None:
    """What every command that changes plans takes."""
    parser.add_argument("paths", nargs="+", metavar="PATH", help="a plan, or a folder of plans (*.trackplan)")
    parser.add_argument("--show", action="store_true", help="show the changes as a unified diff and write nothing")


def rewritten(files: Files, texts: Mapping[str, str], show: bool) -> int:
    """Shows or writes the changed texts, by path; how many were changed. What stands in the way is a trouble."""
    changed = 0
    for path, after in sorted(texts.items()):
        before = files.open_text(path)
        if before == after:
            continue
        changed += 1
        if show:
            sys.stdout.writelines(unified(Source(path, before), after))
        else:
            changed -= not _wrote(files, path, before, after)
    return changed


def _wrote(files: Files, path: str, before: str, after: str) -> bool:
    from railbond.rewriting import rewrite

    try:
        rewrite(path, before, after)
    except OSError as error:
        files.trouble(path, error, "cannot be written")
        return False
    return True


def tell_troubles(files: Files) -> None:
    """What stood in the way, on standard error."""
    from railbond.faces.places import printable

    for trouble in files.troubles:
        print(printable(f"railbond: {trouble}"), file=sys.stderr)
