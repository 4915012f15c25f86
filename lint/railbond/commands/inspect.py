"""Tells the shorts and dead rails of plans, in every turnout setting.

Exit status: 0 when nothing at or above the level of --fail-at is found, 1 when
something is, 2 when the call cannot be understood or a file cannot be read, 130
when it was stopped with Ctrl-C; what was known by then is told.
"""

from __future__ import annotations

import os
import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Iterable, Iterator
from errno import EBADF

from railbond.doorway import enter
from railbond.files import Files, bounded
from railbond.findings import LEVELS, Finding
from railbond.inspection import Inspection
from railbond.reach import FolderBounds, repository
from railbond.saying import say
from railbond.settings import fails, settings_for
from railbond.usage import UsageError
from trackplan.span import Source
from trackplan.typed import TYPE_CHECKING

from ._plan import reach_argument, tell_troubles
from ._unfinished import STATUS, as_far_as_it_gets, until_stopped
from ._working import Working

if TYPE_CHECKING:
    from railbond.faces.text import TextStyle

STANDARD_INPUT = "-"
LARGE = 60_000
"""Characters of a plan; to start looking for kept answers takes as long as to inspect one of these."""
FACES = ("text", "brief", "annotations", "sarif")


def arguments(parser: ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument(
        "paths",
        nargs="*",
        metavar="PATH",
        help="a plan, a folder of plans (*.trackplan), or -; without one, all plans that git tracks here",
    )
    parser.add_argument("--stands-for", metavar="PATH", help="the plan that standard input (-) stands for")
    parser.add_argument("--as", dest="face", choices=FACES, default="text", help="text unless said")
    parser.add_argument(
        "--each",
        action="store_true",
        help="tell in full what is the same at several places, or in many lines of a mend",
    )
    parser.add_argument("--fail-at", choices=LEVELS[::-1], help="as the settings say, else warning")
    parser.add_argument(
        "--dependents", action="store_true", help="inspect also the plans that read a PATH, as they are staged"
    )
    parser.add_argument("--no-cache", action="store_true", help="work everything out anew, and keep nothing")
    reach_argument(parser)


def run(options: Namespace) -> int:
    """Inspects every plan, tells what is found and gives the exit status."""
    files, paths = _meant(options)
    plans = list(files.plans(paths))
    with Working("inspecting") as work:
        told, finished = until_stopped(_inspected(files, plans, not options.no_cache), plans, files, work)
    inspections = list(told.values())
    findings = _once(finding for one in inspections for finding in one.findings)
    sources = {path: source for one in inspections for path, source in one.sources.items()}
    if options.face == "sarif":
        _tell_sarif(findings, sources, files, inspections)
    elif options.face != "text":
        _tell_lines(options.face, findings, sources)
    else:
        _tell_text(findings, sources, files, inspections, options.each)
    tell_troubles(files)
    if not finished:
        return STATUS
    return 2 if files.troubles else int(any(_fails(files, *one, options) for one in told.items()))


def _meant(options: Namespace) -> tuple[Files, list[str]]:
    """The files to read from, and the paths to inspect: `-` by the path that it stands for."""
    if options.dependents or not options.paths:
        from ._dependents import all_tracked, touched

        return touched(options, options.paths) if options.dependents else all_tracked(options)
    reach = FolderBounds(options.reach)
    if STANDARD_INPUT not in options.paths:
        if options.stands_for:
            raise UsageError("--stands-for needs - (standard input) among the paths")
        return Files(reach=reach), options.paths
    name = options.stands_for or STANDARD_INPUT
    if sys.stdin is None:
        raise OSError(EBADF, "standard input is closed", STANDARD_INPUT)
    try:
        files = Files({name: bounded(sys.stdin.buffer, name)}, reach)
    except OSError as error:
        raise UsageError(f"standard input: {error.strerror}") from None
    return files, [name if path == STANDARD_INPUT else path for path in options.paths]


def _inspected(files: Files, plans: list[str], keep: bool) -> Iterator[tuple[str, Inspection]]:
    """What is found in each plan, with the settings that count there; what cannot be read is a trouble."""
    if len(plans) == 1 and not _is_large(files, plans[0]):
        yield from _alone(files, plans[0])
    elif plans:
        from railbond.batch.at_hand import inspections

        yield from inspections(files, plans, keep)


def _is_large(files: Files, plan: str) -> bool:
    """Whether a plan takes so long that it is worth looking for what was found in it before."""
    try:
        return len(files.open_text(plan)) > LARGE
    except OSError:
        return False


def _alone(files: Files, plan: str) -> Iterator[tuple[str, Inspection]]:
    try:
        yield from as_far_as_it_gets(enter(plan, files.open_text, settings=settings_for(files, plan)), files)
    except OSError as error:
        files.trouble(plan, error)


def _fails(files: Files, plan: str, inspection: Inspection, options: Namespace) -> bool:
    return fails(inspection.findings, options.fail_at or settings_for(files, plan).fail_at or "warning")


def _tell_text(
    findings: list[Finding], sources: dict[str, Source], files: Files, inspections: list[Inspection], each: bool
) -> None:
    from railbond.faces.text import closing, look_for, noted, nothing, unproven

    style = look_for(sys.stdout)._replace(in_short=not each)
    parts = list(_grouped(findings, sources, style, each)) if findings else []
    if files.troubles and inspections and not findings:
        parts.append(unproven(files.troubles, style))
    elif inspections:
        told = sum(map(_says_something, inspections))
        parts += [closing(findings, told, style)] if told else []
        parts += [nothing(len(inspections) - told)] if told < len(inspections) else []
    parts += noted((remark.text for one in inspections for remark in one.remarks), style)
    for part in parts:
        say(part, painted=True)


def _says_something(inspection: Inspection) -> bool:
    """Whether a plan has a line that is no comment: of one that was lost on a full disk nothing is proven."""
    return any(
        text and not text.startswith("#")
        for source in inspection.sources.values()
        for text in map(str.strip, source.text.splitlines())
    )


def _grouped(findings: list[Finding], sources: dict[str, Source], style: TextStyle, each: bool) -> Iterator[str]:
    """The findings, the same at several places once, and what is dangerous about mending them."""
    from railbond.faces.grouping import alike, same_at
    from railbond.faces.text import cautions, told

    groups = [[one] for one in findings] if each else alike(findings, sources)
    for one, *more in groups:
        yield f"{told(one, sources, style, same_at(more, sources))}\n"
    if len(groups) < len(findings):
        yield "With --each, what is the same at several places is told in full at each of them.\n"
    yield from (f"{caution}\n" for caution in cautions(findings, style))


def _tell_lines(face: str, findings: list[Finding], sources: dict[str, Source]) -> None:
    """One line a finding, and no other."""
    from railbond.faces.brief import annotation, brief

    for finding in findings:
        say((brief if face == "brief" else annotation)(finding, sources))


def _tell_sarif(
    findings: list[Finding], sources: dict[str, Source], files: Files, inspections: list[Inspection]
) -> None:
    from railbond.faces.sarif import written
    from railbond.rules import all_rules

    remarks = [remark for one in inspections for remark in one.remarks]
    say(written(findings, sources, all_rules(), files.troubles, remarks, repository(os.path.abspath(os.curdir))))


def _once(findings: Iterable[Finding]) -> list[Finding]:
    """The findings, the worst first, without those that a file brings again which several plans include."""
    found: dict[object, Finding] = {}
    for finding in findings:
        found.setdefault((finding.rule, finding.at, finding.message), finding)
    if not found:
        return []
    from railbond.faces.grouping import worst_first

    return worst_first(found.values())
