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
from collections.abc import Sequence
from typing import TYPE_CHECKING, TextIO

from railbond.files import Files
from railbond.saying import say
from railbond.settings import fails, settings_for

from ._plan import files_for, inspecting, readable, tell_troubles
from ._rewrite import arguments as rewriting_arguments
from ._rewrite import rewritten, tell_changed
from ._working import Working

if TYPE_CHECKING:
    from railbond.mend.overlay import Attempted, Overlay
    from railbond.mend.rounds import Mended


def arguments(parser: ArgumentParser) -> None:
    """What the command takes."""
    rewriting_arguments(parser)
    parser.add_argument(
        "--rule", action="append", default=[], metavar="RULE", help="mend only what this rule finds, by any mend"
    )
    parser.add_argument(
        "--dependents", action="store_true", help="mend the plans too that include or couple a PATH, as they are staged"
    )


def run(options: Namespace) -> int:
    """Mends every plan, tells what was mended and what is left, and gives the exit status."""
    from railbond.mend.overlay import Overlay
    from railbond.mend.rounds import mend

    _refuse_unknown(options)
    files, paths = _meant(options)
    made: list[Attempted] = []
    try:
        with Working("trying mends"):
            overlay = Overlay(readable(files, paths), files.open_text, inspecting(files))
            mended = mend(overlay, options.rule, made, judged=lambda root, one: settings_for(files, root).judged(one))
    except KeyboardInterrupt:
        _tell_stopped(made)
        raise
    after = {path: text for path, text in overlay.texts.items() if text != files.open_text(path)}
    plans = [overlay.inspection(root).sources.keys() for root in overlay.roots]
    changed = rewritten(files, after, options.show, plans)
    lost = after.keys() - set(changed)
    to = sys.stderr if options.show else sys.stdout
    _tell(overlay, mended, lost, to)
    _close(options, files, overlay, mended, changed, to)
    tell_troubles(files)
    if files.troubles:
        return 2
    left = any(fails([one.finding], settings_for(files, one.root).fail_at or "warning") for one in mended.left)
    return int(bool(changed) if options.show else left)


def _tell_stopped(made: Sequence[Attempted]) -> None:
    """What is known where somebody did not wait for the end. Nothing of it is made: a smaller mend may do as well."""
    for line in map(_in_words, made):
        say(f"proven by now, and not made: {line}")
    say("Nothing was changed.")


def _in_words(one: Attempted) -> str:
    from railbond.faces.places import said

    finding, fix = one
    fix = fix._replace(proven="") if fix.proven == "untried" else fix  # by now it was tried, on the text
    return f"{said(fix)} ({finding.rule} at {finding.names[0] if finding.names else finding.at.path})"


def _close(
    options: Namespace, files: Files, overlay: Overlay, mended: Mended, changed: Sequence[str], to: TextIO
) -> None:
    """The last words: what was written, and whether all is well. What was not read or not written proves nothing."""
    from railbond.faces.places import counted
    from railbond.faces.text import closing, look_for, unproven

    if not options.show:
        tell_changed(changed)
    bench = "Nothing was written." if options.show else "Now do the same at the bench."
    say(f"{counted(len(changed), 'file')} changed. {bench}" if changed else "Nothing was changed.", to=to)
    if files.troubles:
        say(unproven(files.troubles, look_for(to)), to=to)
    elif not mended.left and not options.rule:
        say(closing([], len(overlay.roots), look_for(to)), to=to)


def _meant(options: Namespace) -> tuple[Files, list[str]]:
    """Where to read from, and the plans to mend."""
    if not options.dependents:
        return files_for(options), options.paths
    from ._dependents import touched

    return touched(options, options.paths)


def _refuse_unknown(options: Namespace) -> None:
    from railbond.rules import all_rules
    from railbond.usage import UsageError, near

    names = [rule.name for rule in all_rules()]
    for name in options.rule:
        if name not in names:
            raise UsageError(f"there is no rule called {name}{near(name, names)}")


def _tell(overlay: Overlay, mended: Mended, lost: Sequence[str] | set[str], to: TextIO) -> None:
    """What was mended, in words for the bench, and what is left, with why; that of a shared file once. A mend of a file
    that could not be written is not one."""
    from railbond.faces.text import cautions, look_for, told

    style = look_for(to)
    made = [one for one in mended.made if not any(edit.at.path in lost for edit in one[1].edits)]
    for one in made:
        say(f"mended: {_in_words(one)}", to=to)
    for caution in cautions([finding for finding, _ in made], style):
        say(caution, to=to)
    for left in {(one.finding.rule, one.finding.at, one.finding.message): one for one in mended.left}.values():
        say(told(left.finding._replace(fixes=()), overlay.inspection(left.root).sources, style), to=to, painted=True)
        say(f"    left {left.why}", end="\n\n", to=to)
