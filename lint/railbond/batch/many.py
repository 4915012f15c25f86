"""Many plans at once: on all cores, in the order of their names, and from the cache what has not changed."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import partial
from typing import Any, NamedTuple

from railbond.doorway import enter
from railbond.files import Files
from railbond.inspection import Inspection
from railbond.reach import FolderBounds
from railbond.settings import settings_for

from .cache import Cache, DiskAnswers, folder
from .plain import from_plain, to_plain
from .program import program

FEWEST = 8
"""Plans for which other processes are worth their start."""


class Result(NamedTuple):
    """A plan's inspection, or why there is none."""

    path: str
    inspection: Inspection | None
    trouble: str = ""


Answer = tuple[dict[str, Any] | None, dict[str, str], str]
"""A plain inspection with the texts of its files, or what stood in its way."""


def results(
    paths: Iterable[str],
    keep: bool = True,
    done: Callable[[int, int], None] | None = None,
    reach: Sequence[str] = (),
) -> Iterator[Result]:
    """The result of each plan, in the order of `paths`. `done` is told how many of how many are finished; `reach` are
    folders to which plans may lead beside their own."""
    plans = list(paths)
    at, stamp = (folder(), program()) if keep and plans else (None, "")
    answer = partial(answered, at=at, stamp=stamp, reach=tuple(reach))
    for number, (path, found) in enumerate(zip(plans, _answers(answer, plans), strict=True), 1):
        if done:
            done(number, len(plans))
        yield _result(path, *found)


def _answers(answer: Callable[[str], Answer], plans: list[str]) -> Iterator[Answer]:
    workers = min(os.cpu_count() or 1, len(plans) // FEWEST)
    if workers < 2:
        yield from map(answer, plans)
        return
    from concurrent.futures import ProcessPoolExecutor

    with ProcessPoolExecutor(workers) as pool:
        yield from pool.map(answer, plans, chunksize=max(1, min(32, len(plans) // workers // 4)))


def answered(path: str, at: str | None, stamp: str, reach: tuple[str, ...] = ()) -> Answer:
    """A plan's answer. Whatever a plan holds, the others get theirs."""
    files = Files(reach=FolderBounds(reach))
    settings, source = settings_for(files, path), files.settings_file(path)
    cache = Cache(at, f"{stamp} {os.path.abspath(os.curdir)} {reach} {source and (source.path, source.text)}")
    asked = DiskAnswers(files.open_text)
    found = cache.get(path, asked)
    if found is not None and not files.troubles and _reads(found, asked.texts):
        return found, asked.texts, ""
    try:
        inspection = enter(path, asked.open_text, settings=settings).proven
    except OSError as error:
        return None, {}, f"cannot be read: {error.strerror or error}"
    except Exception as error:  # a fault of the program in one plan must not take the others down
        return None, {}, f"could not be inspected ({type(error).__name__}: {error})"
    texts = {name: one.text for name, one in inspection.sources.items()}
    plain = to_plain(inspection)
    if not files.troubles:
        cache.put(path, asked, plain)
    return plain, texts, "; ".join(str(one) for one in files.troubles)


def _reads(plain: dict[str, Any], texts: dict[str, str]) -> bool:
    """Whether a kept answer is one."""
    try:
        from_plain(plain, texts)
    except (KeyError, TypeError, ValueError):
        return False
    return True


def _result(path: str, plain: dict[str, Any] | None, texts: dict[str, str], trouble: str) -> Result:
    return Result(path, from_plain(plain, texts) if plain is not None else None, trouble)
