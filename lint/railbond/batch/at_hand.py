"""The plans that a command was given, inspected: from what was kept where nothing has changed, else on all cores."""

from __future__ import annotations

import gc
import os
from collections.abc import Callable, Iterator
from contextlib import suppress
from signal import SIG_DFL, SIGINT, signal
from typing import Any, NamedTuple

from railbond.doorway import enter
from railbond.files import Files, Trouble
from railbond.inspection import Inspection
from railbond.settings import settings_for

from .cache import Cache, DiskAnswers, folder, sweep
from .plain import from_plain, to_plain
from .program import program

A_START = 60_000
"""Characters of plans that are worth the start of another process."""


class WorkedOut(NamedTuple):
    """What a plan says of itself: its inspection, or why there is none, and what else stood in the way."""

    inspection: Inspection | None
    troubles: list[Trouble]


Plain = tuple[dict[str, Any] | None, dict[str, str], list[Trouble]]


def inspections(files: Files, plans: list[str], keep: bool = True) -> Iterator[tuple[str, Inspection]]:
    """The inspection of each plan that can be read, in their order; what stood in the way is told to `files`."""
    at, stamp = (folder(), program()) if keep else (None, "")
    kept = {plan: found for plan in plans if (found := _kept(files, plan, at, stamp))} if at else {}
    rest = iter(_answers(files, [plan for plan in plans if plan not in kept], at, stamp))
    for plan in plans:
        found = kept.get(plan)
        if found is None:
            found, troubles = next(rest)
            files.troubles += [one for one in troubles if one not in files.troubles]
        if found is not None:
            yield plan, found
    if at and len(kept) < len(plans):
        sweep(at)


def _answers(files: Files, plans: list[str], at: str | None, stamp: str) -> Iterator[WorkedOut]:
    """Worked out anew: here, or by as many processes as there are cores and as the plans are worth."""
    weight = sum(len(_text(files, plan)) for plan in plans)
    workers = min(os.cpu_count() or 1, len(plans), weight // A_START + 1)
    if workers < 2:
        yield from (_worked_out(files, plan, at, stamp)[0] for plan in plans)
        return
    from concurrent.futures import ProcessPoolExecutor

    each = max(1, min(32, len(plans) // workers // 4))
    with ProcessPoolExecutor(workers, initializer=_begin, initargs=(files, at, stamp)) as pool:
        for plain, texts, troubles in pool.map(_in_worker, plans, chunksize=each):
            yield WorkedOut(from_plain(plain, texts) if plain else None, troubles)


_worker: Callable[[str], Plain]


def _begin(files: Files, at: str | None, stamp: str) -> None:
    """Makes a process ready: what it was born with needs no looking through for waste, and Ctrl-C ends it without a
    word, for whoever started it tells what is known."""
    signal(SIGINT, SIG_DFL)
    gc.freeze()
    gc.set_threshold(100_000)
    known = len(files.troubles)

    def work(plan: str) -> Plain:
        answer, plain = _worked_out(files, plan, at, stamp)
        found = answer.inspection
        texts = {path: source.text for path, source in found.sources.items()} if found else {}
        return plain or (to_plain(found) if found else None), texts, files.troubles[known:] + answer.troubles

    global _worker
    _worker = work


def _in_worker(plan: str) -> Plain:
    return _worker(plan)


def _worked_out(files: Files, plan: str, at: str | None, stamp: str) -> tuple[WorkedOut, dict[str, Any] | None]:
    """A plan's answer, and what was kept of it."""
    asked, known = DiskAnswers(files.open_text), len(files.troubles)
    try:
        found = enter(plan, asked.open_text, settings=settings_for(files, plan)).proven
    except OSError as error:
        return WorkedOut(None, [Trouble(plan, None, f"cannot be read: {error.strerror or error}")]), None
    if at is None or len(files.troubles) > known:
        return WorkedOut(found, []), None
    plain = to_plain(found)
    _cache(files, plan, at, stamp).put(plan, asked, plain)
    return WorkedOut(found, []), plain


def _kept(files: Files, plan: str, at: str, stamp: str) -> Inspection | None:
    """The answer of a former run, where all that it rests on is as it was then."""
    known = len(files.troubles)
    with suppress(OSError, KeyError, TypeError, ValueError):
        asked = DiskAnswers(files.open_text)
        found = _cache(files, plan, at, stamp).get(plan, asked)
        if found is not None and len(files.troubles) == known:
            return from_plain(found, asked.texts)
    return None


def _cache(files: Files, plan: str, at: str, stamp: str) -> Cache:
    settings_for(files, plan)  # what they let plans lead to is part of the reach
    source = files.settings_file(plan)
    settled = source and (source.path, source.text)
    return Cache(at, f"{stamp} {os.path.abspath(os.curdir)} {files.reach.extent} {settled}")


def _text(files: Files, plan: str) -> str:
    with suppress(OSError):
        return files.open_text(plan)
    return ""
