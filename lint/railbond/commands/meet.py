"""Inspects module plans, and the meet that couples them as one: together or one by one, do they run?

A plan with `module` and `couple` lines is a meet: its modules are inspected alone
and as a whole. All other plans are inspected by themselves. -o writes a page that a
club can print or open on a phone.

Exit status: 0 when nothing at or above the level of --fail-at is found, 1 when
something is, 2 when the call cannot be understood or a file cannot be read.
"""

from __future__ import annotations

import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Callable, Iterable

from railbond.files import Files
from railbond.findings import LEVELS, Finding
from railbond.meet.batch import Result, results
from railbond.meet.examining import Outcome, examine_meet
from railbond.meet.reading import is_meet, read_meet
from trackplan.gather import beside, gather, normal
from trackplan.statements import Module


def arguments(parser: ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("paths", nargs="+", metavar="PATH", help="a plan, a meet, or a folder of them (*.trackplan)")
    parser.add_argument("-o", dest="out", metavar="FILE.html", help="write the report as a page")
    parser.add_argument("--without", action="append", default=[], metavar="MODULE", help="a module left out on the day")
    parser.add_argument("--as", dest="face", choices=("text", "sarif"), default="text", help="text unless said")
    parser.add_argument("--fail-at", choices=LEVELS[::-1], default="warning", help="warning unless said")
    parser.add_argument("--no-cache", action="store_true", help="work everything out anew, and keep nothing")
    parser.set_defaults(refuse=parser.error)


def run(options: Namespace) -> int:
    """Inspects all plans and meets, tells what is found and gives the exit status."""
    files = Files()
    paths = list(files.plans(options.paths))
    meets = [path for path in paths if _may_be_meet(path, files)]
    plain = [path for path in paths if path not in meets]
    found = list(results(plain, not options.no_cache, _progress(len(plain))))
    known = {one.path: one.inspection for one in found if one.inspection}
    outcomes = [_outcome(path, files, options, known) for path in meets]
    coupled = {beside(one.at.path, one.file) for outcome in outcomes for one in _modules(outcome)}
    single = [one for one in found if normal(one.path) not in coupled]
    _check_left_out(options, outcomes)
    _tell(options, single, outcomes, files)
    troubles = [*map(str, files.troubles), *(f"{one.path}: {one.trouble}" for one in found if one.trouble)]
    for trouble in dict.fromkeys(troubles):
        print(f"railbond: {trouble}", file=sys.stderr)
    return 2 if troubles else int(_fails(options, single, outcomes))


def _may_be_meet(path: str, files: Files) -> bool:
    """Whether a plan couples modules; one that cannot be read is none, and is told later."""
    try:
        text = files.open_text(path)
        return "module" in text and is_meet(gather(path, files.open_text))
    except OSError:
        return False


def _progress(count: int) -> Callable[[int, int], None] | None:
    """A line on the terminal that tells how far it is; nothing where there is none to watch it."""
    if count < 2 or not sys.stderr.isatty():
        return None

    def show(done: int, of: int) -> None:
        bar = "#" * (30 * done // of)
        print(f"\r[{bar:<30}] {done} of {of} plans", end="\n" if done == of else "", file=sys.stderr, flush=True)

    return show


def _outcome(path: str, files: Files, options: Namespace, known: dict) -> Outcome:  # type: ignore[type-arg]
    meet = read_meet(gather(path, files.open_text), files.open_text)
    return examine_meet(meet.without(set(options.without)), known)


def _modules(outcome: Outcome) -> list[Module]:
    """All that a meet's plan names, those that are left out too."""
    return [one for one in outcome.meet.gathered.statements if isinstance(one, Module)]


def _check_left_out(options: Namespace, outcomes: Iterable[Outcome]) -> None:
    modules = {str(one.name) for outcome in outcomes for one in _modules(outcome)}
    for name in options.without:
        if name not in modules:
            from ._near import near

            options.refuse(f"--without: no meet has a module {name!r}{near(name, modules)}")


def _tell(options: Namespace, single: list[Result], outcomes: list[Outcome], files: Files) -> None:
    from railbond.faces import summary

    if options.face == "sarif":
        print(summary.sarif(single, outcomes, files.troubles))
    else:
        print(summary.text(single, outcomes), end="")
    if options.out is not None:
        try:
            content = summary.page(single, outcomes)
        except ModuleNotFoundError as error:
            if error.name != "jinja2":
                raise
            options.refuse("-o needs Jinja2: install it with `pip install 'railbond[page]'`")
        try:
            with open(options.out, "w", encoding="utf-8") as file:
                file.write(content)
        except OSError as error:
            options.refuse(f"{options.out}: cannot be written: {error.strerror or error}")


def _fails(options: Namespace, single: list[Result], outcomes: list[Outcome]) -> bool:
    bad = LEVELS[LEVELS.index(options.fail_at) :]
    findings: list[Finding] = [one for result in single if result.inspection for one in result.inspection.findings]
    findings += [one for outcome in outcomes for one in outcome.findings]
    wishes = [answer.granted for outcome in outcomes for answer in outcome.answers]
    return not all(wishes) or any(one.level in bad for one in findings)
