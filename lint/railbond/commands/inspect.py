"""Tells the shorts and dead rails of plans, in every turnout setting.

Exit status: 0 when nothing at or above the level of --fail-at is found, 1 when
something is, 2 when the call cannot be understood or a file cannot be read.
"""

from __future__ import annotations

import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Iterable, Iterator

from railbond.files import Files, bounded
from railbond.findings import LEVELS, Finding, Level
from railbond.inspection import Inspection, inspect
from trackplan.gather import GatheredPlan, gather
from trackplan.span import Source
from trackplan.statements import Module

STANDARD_INPUT = "-"

Remark = tuple[str, str]
"""A plan's path, and what could not be looked at in it."""


def arguments(parser: ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("paths", nargs="+", metavar="PATH", help="a plan, a folder of plans (*.trackplan), or -")
    parser.add_argument("--stands-for", metavar="PATH", help="the plan that standard input (-) stands for")
    parser.add_argument("--as", dest="face", choices=("text", "sarif"), default="text", help="text unless said")
    parser.add_argument("--fail-at", choices=LEVELS[::-1], default="warning", help="warning unless said")
    parser.add_argument(
        "--dependents", action="store_true", help="inspect also the plans below this folder that read a PATH"
    )
    parser.set_defaults(refuse=parser.error)


def run(options: Namespace) -> int:
    """Inspects every plan, tells what is found and gives the exit status."""
    files, paths = _meant(options)
    inspections = list(_inspected(files, _touched(files, paths) if options.dependents else paths))
    findings = _once(finding for one in inspections for finding in one.findings)
    sources = {path: source for one in inspections for path, source in one.sources.items()}
    remarks = [(next(iter(one.sources)), remark) for one in inspections for remark in one.remarks]
    if options.face == "sarif":
        _tell_sarif(findings, sources, files, remarks)
    else:
        _tell_text(findings, sources, len(inspections), remarks)
    _tell_troubles(files)
    return 2 if files.troubles else int(_fails(findings, options.fail_at))


def _meant(options: Namespace) -> tuple[Files, list[str]]:
    """The files to read from, and the paths to inspect: `-` by the path that it stands for."""
    if STANDARD_INPUT not in options.paths:
        if options.stands_for:
            options.refuse("--stands-for needs - (standard input) among the paths")
        return Files(), options.paths
    name = options.stands_for or STANDARD_INPUT
    try:
        files = Files({name: bounded(sys.stdin.buffer, name)})
    except OSError as error:
        options.refuse(f"standard input: {error.strerror}")
    return files, [name if path == STANDARD_INPUT else path for path in options.paths]


def _touched(files: Files, paths: Iterable[str]) -> list[str]:
    from ._dependents import touched

    return touched(files.plans(paths))


def _inspected(files: Files, paths: Iterable[str]) -> Iterator[Inspection]:
    """Each plan that can be read, inspected by itself, and a meet with all of its modules."""
    for path in files.plans(paths):
        try:
            gathered = gather(path, files.open_text)
        except OSError as error:
            files.trouble(path, error)
        else:
            is_meet = any(isinstance(one, Module) for one in gathered.statements)
            yield _of_meet(gathered, files) if is_meet else _proven(path, inspect(gathered), files)


def _of_meet(gathered: GatheredPlan, files: Files) -> Inspection:
    from railbond.meet.examining import examine_meet
    from railbond.meet.reading import read_meet

    meet = read_meet(gathered, files.open_text)
    return Inspection(meet.sources, examine_meet(meet).findings)


def _proven(path: str, inspection: Inspection, files: Files) -> Inspection:
    """The inspection with the fixes that cure when they are tried."""
    if not inspection.findings:
        return inspection
    from railbond.mend.proving import proven

    return proven(path, inspection, files.open_text)


def _tell_text(findings: list[Finding], sources: dict[str, Source], plans: int, remarks: list[Remark]) -> None:
    from railbond.faces.text import cautions, closing, look_for, noted, told

    look = look_for(sys.stdout)
    for finding in findings:
        print(told(finding, sources, look), end="\n\n")
    for caution in cautions(findings, look) if findings else ():
        print(caution, end="\n\n")
    if plans:
        print(closing(findings, plans, look))
    for note in noted((remark for _, remark in remarks), look) if remarks else ():
        print(note)


def _tell_sarif(findings: list[Finding], sources: dict[str, Source], files: Files, remarks: list[Remark]) -> None:
    from railbond.faces.sarif import written
    from railbond.rules import all_rules

    print(written(findings, sources, all_rules(), files.troubles, remarks))


def _tell_troubles(files: Files) -> None:
    if files.troubles:
        from railbond.faces.places import printable

        for trouble in files.troubles:
            print(printable(f"railbond: {trouble}"), file=sys.stderr)


def _once(findings: Iterable[Finding]) -> list[Finding]:
    """The findings without those that a file brings again which several plans include."""
    found: dict[object, Finding] = {}
    for finding in findings:
        found.setdefault((finding.rule, finding.at, finding.message), finding)
    return list(found.values())


def _fails(findings: Iterable[Finding], least: Level) -> bool:
    """Whether a finding is as bad as `least`, or worse."""
    bad = LEVELS[LEVELS.index(least) :]
    return any(finding.level in bad for finding in findings)
