"""Tells what to cut, solder and buy for a plan; with a second plan, what to change to get there.

Cuts and insulated joiners rail by rail, jumpers, bonds, frogs, drops, bus wires and devices, then the parts count. A
second plan is the newer one: the list is then what to take out, change and add on the layout as the first plan has it.

Exit status: 0 when the schedule is told, 2 when the call cannot be understood or a file cannot be read or written.
"""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from typing import TYPE_CHECKING

from ._paper import needs_pages, paper_arguments, written
from ._plan import facts_of, files_for, plan_argument, title_of

if TYPE_CHECKING:
    from railbond.circuit.facts import Facts


def arguments(parser: ArgumentParser) -> None:
    """What the command takes."""
    plan_argument(parser)
    parser.add_argument("newer", metavar="NEWER", nargs="?", help="a newer plan: tell what to change to get there")
    parser.add_argument(
        "--allowance", type=_percent, default=None, metavar="PERCENT", help="spare wire to buy (10 unless said)"
    )
    paper_arguments(parser, ("text", "csv", "page"))


def run(options: Namespace) -> int:
    """Tells the schedule and gives the exit status."""
    needs_pages(options)
    files = files_for(options)
    plans = [facts_of(path, files) for path in (options.path, options.newer) if path is not None]
    if None in plans:
        return 2
    text = _changed(options, *plans) if options.newer else _whole(options, plans[0])  # type: ignore[arg-type]
    return written(options.out, text, files.read)


def _whole(options: Namespace, facts: Facts) -> str:
    from railbond.bench.checks import checks
    from railbond.bench.jobs import tasks
    from railbond.bench.parts import ALLOWANCE, parts

    allowance = ALLOWANCE if options.allowance is None else options.allowance
    todo = tasks(facts)
    work, tried = [task.job for task in todo], checks(facts, todo)
    bought = parts(work, allowance)
    if options.face == "csv":
        from railbond.faces.schedule_csv import rows

        return rows(work, bought, facts.sources, tried)
    if options.face == "page":
        from railbond.faces.schedule_page import page

        return page(title_of(facts, options.path), facts, work, bought, allowance, tried, options.path)
    from railbond.faces.schedule import told

    return told(title_of(facts, options.path), work, bought, allowance, facts.sources, tried)


def _changed(options: Namespace, old: Facts, new: Facts) -> str:
    from railbond.bench.changes import changes
    from railbond.bench.jobs import jobs

    found, sources = changes(jobs(old), jobs(new)), {**old.sources, **new.sources}
    title = f"{options.path} to {options.newer}"
    if options.face == "csv":
        from railbond.faces.schedule_csv import changed_rows

        return changed_rows(found, sources)
    if options.face == "page":
        from railbond.faces.schedule_page import changed_page

        return changed_page(title, found, sources)
    from railbond.faces.schedule import changed

    return changed(title, found, sources)


def _percent(text: str) -> float:
    value = float(text.removesuffix("%"))
    if not 0 <= value <= 1000:
        raise ValueError(text)
    return value
