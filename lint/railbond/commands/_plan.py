"""One plan for a command that asks about the layout as it is."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Iterable

from railbond.circuit.facts import Facts
from railbond.doorway import Opened, OpenText, enter
from railbond.files import Files
from railbond.inspection import Inspection
from railbond.reach import FolderBounds
from railbond.saying import complain
from railbond.settings import settings_for
from trackplan.typed import TYPE_CHECKING

from ._working import Working, clear

if TYPE_CHECKING:
    from railbond.mend.overlay import Inspector


def plan_argument(parser: ArgumentParser, words: str = "a plan") -> None:
    """The plan, and how far it may lead to others."""
    parser.add_argument("path", metavar="PATH", help=words)
    reach_argument(parser)


def reach_argument(parser: ArgumentParser) -> None:
    """How far plans may lead."""
    parser.add_argument(
        "--reach", action="append", default=[], metavar="FOLDER", help="let plans include and couple what lies below it"
    )


def files_for(options: Namespace) -> Files:
    """Where a command reads from."""
    return Files(reach=FolderBounds(options.reach))


def opened(path: str, files: Files) -> Opened | None:
    """Whatever stands at a path; None where it cannot be read as it should be. Why is told on standard error."""
    told = len(files.troubles)
    try:
        found = enter(path, files.open_text, settings=settings_for(files, path))
        assert found.sources  # a meet's modules are read too
    except OSError as error:
        files.trouble(path, error)
    tell_troubles(files, told)
    return None if len(files.troubles) > told else found


def readable(files: Files, paths: Iterable[str]) -> list[str]:
    """The plans that can be read whole; the others are troubles."""
    good = []
    for path in files.plans(paths):
        told = len(files.troubles)
        try:
            assert enter(path, files.open_text, settings=settings_for(files, path)).sources  # a meet's modules too
        except OSError as error:
            files.trouble(path, error)
        if len(files.troubles) == told:
            good.append(path)
    return good


def inspecting(files: Files) -> Inspector:
    """How a plan is inspected, with texts as they are by now and the settings that count for it."""

    def inspected(root: str, open_text: OpenText, *, with_fixes: bool = True) -> Inspection:
        opened = enter(root, open_text, settings=settings_for(files, root))
        return opened.untried if with_fixes else opened.told

    return inspected


def tell_troubles(files: Files, first: int = 0) -> None:
    """What stood in the way, on standard error."""
    clear()
    for trouble in files.troubles[first:]:
        complain(str(trouble))


def facts_of(path: str, files: Files) -> Facts | None:
    """The facts of a plan with all that it includes; None, and a word on standard error, where it cannot be read.

    Lines that do not read are told there too: what they say is missing from every answer.
    """
    with Working("reading"):
        found = opened(path, files)
        if found is None:
            return None
        facts = found.facts
    own = [one.at for one in facts.broken]
    more = [one.at for module in found.meet.modules.values() for one in module.broken] if found.is_meet else []
    wrong = len({*own, *more}) + len(facts.layout.faults)
    if wrong:
        from railbond.faces.places import counted

        stand = "stands" if wrong == 1 else "stand"
        complain(f"{path}: {counted(wrong, 'fault')} of the plan {stand} in the way: see `railbond inspect`")
    return facts


def tell_shorts(facts: Facts, path: str) -> None:
    """Says so where the plan itself has shorts: a layout that is built to it cannot be right."""
    if facts.shorts:
        complain(f"{path}: the plan itself has shorts: see `railbond inspect`")


def title_of(facts: Facts, path: str) -> str:
    """The plan's own title, or its path."""
    from trackplan.statements import Plan

    return next((str(one.title) for one in facts.statements if isinstance(one, Plan)), path)
