"""Inspects module plans, and the meet that couples them as one: together or one by one, do they run?

A plan with `module` and `couple` lines is a meet: its modules are inspected alone
and as a whole. All other plans are inspected by themselves. -o writes a page that a
club can print or open on a phone.

Exit status: 0 when nothing at or above the level of --fail-at is found, 1 when
something is, 2 when the call cannot be understood or a file cannot be read.
"""

from __future__ import annotations

import os
import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Callable, Iterable, Iterator

from railbond.batch.many import Result, results
from railbond.doorway import Opened, enter
from railbond.files import Files
from railbond.findings import LEVELS
from railbond.inspection import Inspection
from railbond.reach import repository
from railbond.saying import complain, say
from railbond.settings import fails, settings_for
from railbond.usage import UsageError, near
from trackplan.gather import beside, normal

from ._paper import written
from ._plan import files_for, reach_argument
from ._unfinished import STATUS, UNFINISHED


def arguments(parser: ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("paths", nargs="+", metavar="PATH", help="a plan, a meet, or a folder of them (*.trackplan)")
    parser.add_argument("-o", dest="out", metavar="FILE.html", help="write the report as a page")
    parser.add_argument("--without", action="append", default=[], metavar="MODULE", help="a module left out on the day")
    parser.add_argument("--as", dest="face", choices=("text", "sarif"), default="text", help="text unless said")
    parser.add_argument("--fail-at", choices=LEVELS[::-1], help="as the settings say, else warning")
    parser.add_argument("--no-cache", action="store_true", help="work everything out anew, and keep nothing")
    reach_argument(parser)


def run(options: Namespace) -> int:
    """Inspects all plans and meets, tells what is found and gives the exit status."""
    files = files_for(options)
    paths = list(files.plans(options.paths))
    meets = {path: meet for path in paths if (meet := _meet(path, files, options.without))}
    plain = [path for path in paths if path not in meets]
    _check_left_out(options, meets.values())
    found: list[Result] = []
    done: list[Opened] = []
    try:
        found.extend(results(plain, not options.no_cache, _progress(len(plain)), options.reach))
        done.extend(_inspected(meets.values(), {one.path: one.inspection for one in found if one.inspection}))
    except KeyboardInterrupt:
        if not found and not done:
            raise
    coupled = {beside(one.at.path, one.file) for meet in done for one in meet.modules}
    single = [one for one in found if normal(one.path) not in coupled]
    unfinished = [path for path in paths if path not in {one.path for one in found} | {one.root for one in done}]
    status = _tell(options, single, done, files, not unfinished)
    troubles = [*map(str, files.troubles), *(f"{one.path}: {one.trouble}" for one in found if one.trouble)]
    for trouble in dict.fromkeys([*troubles, *(f"{path}: {UNFINISHED}" for path in unfinished)]):
        complain(trouble)
    if unfinished:
        return STATUS
    return 2 if troubles or status else int(_fails(options, files, single, done))


def _inspected(meets: Iterable[Opened], known: dict[str, Inspection]) -> Iterator[Opened]:
    """Each meet once it is inspected; of its modules those are `known` that were inspected as plans."""
    for one in meets:
        one.alone = known
        assert one.outcome.meet
        yield one


def _meet(path: str, files: Files, without: list[str]) -> Opened | None:
    """A plan that couples modules; None for any other, and for one that cannot be read, which is told later."""
    try:
        if "module" not in files.open_text(path):
            return None
        found = enter(path, files.open_text, without=without, settings=settings_for(files, path))
    except OSError:
        return None
    return found if found.is_meet else None


def _progress(count: int) -> Callable[[int, int], None] | None:
    """A line on the terminal that tells how far it is; nothing where there is none to watch it."""
    if count < 2 or not sys.stderr.isatty():
        return None

    def show(done: int, of: int) -> None:
        bar = "#" * (30 * done // of)
        say(f"\r[{bar:<30}] {done} of {of} plans", end="\n" if done == of else "", to=sys.stderr, painted=True)
        sys.stderr.flush()

    return show


def _check_left_out(options: Namespace, meets: Iterable[Opened]) -> None:
    modules = {str(one.name) for meet in meets for one in meet.modules}
    for name in options.without:
        if name not in modules:
            raise UsageError(f"--without: no meet has a module {name!r}{near(name, modules)}")


def _tell(options: Namespace, single: list[Result], meets: list[Opened], files: Files, is_all: bool) -> int:
    """Tells everything, and writes the page, if this is all; the status of that."""
    from railbond.faces import summary

    outcomes = [meet.outcome for meet in meets]
    if options.face == "sarif":
        say(summary.sarif(single, outcomes, files.troubles, repository(os.path.abspath(os.curdir))))
    else:
        say(summary.text(single, outcomes), end="", painted=True)
    if options.out is None or not is_all:
        return 0
    try:
        content = summary.page(single, outcomes)
    except ModuleNotFoundError as error:
        if error.name != "jinja2":
            raise
        raise UsageError("-o needs Jinja2: install it with `pip install '.[page]'` in the clone") from None
    read = [path for one in single if one.inspection for path in one.inspection.sources]
    return written(options.out, content, [*files.read, *read])


def _fails(options: Namespace, files: Files, single: list[Result], meets: list[Opened]) -> bool:
    """Whether a wish is not granted, or a finding is as bad as the call, or the settings, say."""
    if not all(answer.granted for meet in meets for answer in meet.outcome.answers):
        return True
    found = [(one.path, one.inspection.findings) for one in single if one.inspection]
    found += [(meet.root, meet.outcome.findings) for meet in meets]
    return any(fails(own, options.fail_at or settings_for(files, path).fail_at or "warning") for path, own in found)
