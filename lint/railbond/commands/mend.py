"""Makes the mends that are proven: each was tried on the plan first.

Plain mends (a cut, a drop, a swap) are made unless --rule says otherwise; with
--rule, only what that rule finds is mended, then also by mends that rebuild a
turnout or add a device. Exit status: 0 when no error or warning is left, 1 when
one is (with --show: when something would change), 2 when a file cannot be read
or written.
"""

from __future__ import annotations

import sys
from argparse import ArgumentParser, Namespace
from typing import TYPE_CHECKING, TextIO

from railbond.files import Files

from ._rewrite import arguments as rewriting_arguments
from ._rewrite import rewritten, tell_troubles

if TYPE_CHECKING:
    from railbond.mend.overlay import Overlay
    from railbond.mend.rounds import Mended


def arguments(parser: ArgumentParser) -> None:
    """What the command takes."""
    rewriting_arguments(parser)
    parser.add_argument(
        "--rule", action="append", default=[], metavar="RULE", help="mend only what this rule finds, by any mend"
    )
    parser.add_argument(
        "--dependents", action="store_true", help="mend the plans below this folder that include or couple a PATH too"
    )
    parser.set_defaults(refuse=parser.error)


def run(options: Namespace) -> int:
    """Mends every plan, tells what was mended and what is left, and gives the exit status."""
    from railbond.faces.places import counted
    from railbond.faces.text import closing, look_for
    from railbond.mend.overlay import Overlay
    from railbond.mend.rounds import mend

    from ._whole import inspect_whole

    _refuse_unknown(options)
    files = Files()
    paths = _touched(files, options.paths) if options.dependents else options.paths
    overlay = Overlay(_readable(files, paths), files.open_text, inspect_whole)
    mended = mend(overlay, options.rule)
    before = {path: text for path, text in overlay.texts.items() if text != files.open_text(path)}
    plans = [overlay.inspection(root).sources.keys() for root in overlay.roots]
    changed = rewritten(files, before, options.show, plans)
    to = sys.stderr if options.show else sys.stdout
    _tell(overlay, mended, to)
    bench = "Nothing was written." if options.show else "Now do the same at the bench."
    print(f"{counted(changed, 'file')} changed. {bench}" if changed else "Nothing was changed.", file=to)
    if not mended.left and not options.rule:
        print(closing([], len(overlay.roots), look_for(to)), file=to)
    tell_troubles(files)
    if files.troubles:
        return 2
    left = any(one.finding.level != "note" for one in mended.left)
    return int(changed > 0 if options.show else left)


def _touched(files: Files, paths: list[str]) -> list[str]:
    from ._dependents import touched

    return touched(files.plans(paths))


def _refuse_unknown(options: Namespace) -> None:
    from railbond.rules import all_rules

    from ._near import near

    names = [rule.name for rule in all_rules()]
    for name in options.rule:
        if name not in names:
            options.refuse(f"there is no rule called {name}{near(name, names)}")


def _readable(files: Files, paths: list[str]) -> list[str]:
    """The plans that can be read whole; the others are troubles."""
    from trackplan.gather import gather

    good = []
    for path in files.plans(paths):
        told = len(files.troubles)
        try:
            gather(path, files.open_text)
        except OSError as error:
            files.trouble(path, error)
        if len(files.troubles) == told:
            good.append(path)
    return good


def _tell(overlay: Overlay, mended: Mended, to: TextIO) -> None:
    """What was mended, in words for the bench, and what is left, with why; that of a shared file once."""
    from railbond.faces.places import said
    from railbond.faces.text import cautions, look_for, told

    look = look_for(to)
    for finding, fix in mended.made:
        place = finding.names[0] if finding.names else finding.at.path
        print(f"mended: {said(fix)} ({finding.rule} at {place})", file=to)
    for caution in cautions([finding for finding, _ in mended.made], look):
        print(caution, file=to)
    for one in {(one.finding.rule, one.finding.at, one.finding.message): one for one in mended.left}.values():
        print(told(one.finding._replace(fixes=()), overlay.inspection(one.root).sources, look), file=to)
        print(f"    left {one.why}", end="\n\n", file=to)
