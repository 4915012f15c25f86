"""Writes the wiring that a plan does not have yet: cuts, sections, frogs, drops and bus runs, proven.

What the plan has is kept as it is, and of the rest as little is written as the
track allows: the fewest reversing sections and drops, the shortest bus runs. The
result goes through the same proof as any plan. What each thing costs, a plan may
set: `limit drop-cost 1`, and so cut, bus, copper, bond, contact, unit, reverser,
breaker and booster.

Exit status: 0 when no error or warning is left, 1 when one is (with --show: when
something would change), 2 when a file cannot be read or written.
"""

from __future__ import annotations

import sys
from argparse import ArgumentParser, Namespace
from contextlib import suppress
from typing import TYPE_CHECKING

from railbond.files import Files
from railbond.saying import printable, say

from ._plan import files_for, readable, tell_troubles
from ._rewrite import arguments as rewriting_arguments
from ._rewrite import rewritten, tell_changed

if TYPE_CHECKING:
    from railbond.design.wire import WiredPlan


MOST_NAMED = 4
"""Modules of a meet that are named where it cannot be wired."""


def arguments(parser: ArgumentParser) -> None:
    """What the command takes."""
    rewriting_arguments(parser)
    parser.add_argument("--why", action="store_true", help="tell for every line that is written why it is there")
    parser.add_argument(
        "--frogs", choices=("contacts", "units"), default="contacts",
        help="how a frog is fed that needs it: by contacts that move with the points (unless said), or automatic units",
    )  # fmt: skip
    parser.add_argument(
        "--drops", choices=("by-distance", "every-piece"), default="by-distance",
        help="as few drops as `limit feeder-spacing` allows (unless said), or a pair to every piece of track",
    )  # fmt: skip
    parser.add_argument("--wire", choices=("AWG", "mm2"), help="sizes as the plan has them, AWG unless said")
    parser.add_argument(
        "--rebuild", choices=("nothing", "bonds", "cuts"), default="cuts",
        help="what may be done to turnouts: nothing; jumpers cut and closure rails bonded; or rails cut around the "
        "frog too (unless said)",
    )  # fmt: skip


def run(options: Namespace) -> int:
    """Wires every plan, tells what was written and what is left, and gives the exit status."""
    from railbond.faces.places import counted
    from railbond.faces.wiring_report import report

    files = files_for(options)
    to = sys.stderr if options.show else sys.stdout
    paths = readable(files, options.paths)
    part_of = _included(files, paths)
    wired = {path: plan for path in paths if path not in part_of and (plan := _wired(files, path, options))}
    changed = rewritten(files, {path: plan.text for path, plan in wired.items()}, options.show)
    for path, plan in wired.items():
        if plan.lines and path not in changed:
            continue  # it could not be written, which is told below
        say(report(path, plan, files.open_text, options.why, to), to=to)
    for path, whole in part_of.items():
        say(f"{printable(path)}: wired as a part of {printable(whole)}.", to=to)
    if not options.show:
        tell_changed(changed)
    bench = "Nothing was written." if options.show else "Now do the same at the bench."
    if not changed:
        say("Nothing was changed.", to=to)
    else:
        say(f"{counted(len(changed), 'file')} changed. {bench}", to=to)
    tell_troubles(files)
    if files.troubles:
        return 2
    return int(bool(changed) if options.show else any(plan.left for plan in wired.values()))


def _included(files: Files, paths: list[str]) -> dict[str, str]:
    """The files among some that another of them includes, each with that plan: their track is wired there, once."""
    from railbond.dependents import uses
    from trackplan.gather import normal

    found, names = dict[str, str](), {normal(path): path for path in paths}
    for path in paths:
        with suppress(OSError):
            for other in uses(path, files.open_text(path)).includes & names.keys() - {normal(path)}:
                if names.get(found.get(path, "")) != names[other]:
                    found[names[other]] = path
    return found


def _wired(files: Files, path: str, options: Namespace) -> WiredPlan | None:
    """A plan with its wiring; None for one that cannot be read, or that is a meet of others."""
    from railbond.design.drops import TooManyDrops
    from railbond.design.wire import wire
    from railbond.design.wishes import WiringWishes

    try:
        if modules := _modules(path, files):
            files.trouble(path, OSError(f"its wires are those of its modules: wire {modules}"), "is a meet")
            return None
        wishes = WiringWishes(options.frogs, options.drops, options.wire, options.rebuild)
        return wire(path, files.open_text, wishes)
    except TooManyDrops as error:
        files.trouble(path, OSError(str(error)), "is not wired")
    except OSError as error:
        files.trouble(path, error)
    return None


def _modules(path: str, files: Files) -> str:
    """The plans that a meet couples, in words; nothing for any other plan."""
    from railbond.doorway import enter

    names = [str(one.file) for one in enter(path, files.open_text).modules]
    more = [f"{len(names) - MOST_NAMED} more"] if len(names) > MOST_NAMED else []
    return ", ".join([*names[:MOST_NAMED], *more])
