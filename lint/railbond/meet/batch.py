"""Many plans at once: on all cores, in the order of their names, and from the cache what has not changed."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Iterator
from functools import partial
from typing import Any, NamedTuple

from railbond.files import Files
from railbond.inspection import Inspection
from trackplan.gather import gather

from .cache import Cache, folder, program
from .examining import inspect_alone
from .plain import from_plain, to_plain

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
    paths: Iterable[str], keep: bool = True, done: Callable[[int, int], None] | None = None
) -> Iterator[Result]:
    """The result of each plan, in the order of `paths`. `done` is told how many of how many are finished."""
    plans = list(paths)
    answer = partial(answered, at=folder() if keep else None, stamp=program())
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


def answered(path: str, at: str | None, stamp: str) -> Answer:
    """A plan's answer. Whatever a plan holds, the others get theirs."""
    cache, files = Cache(at, stamp), Files()
    texts: dict[str, str] = {}
    found = cache.get(path, texts, files.open_text)
    if found is not None and not files.troubles and _reads(found, texts):
        return found, texts, ""
    try:
        inspection = inspect_alone(gather(path, files.open_text))
    except OSError as error:
        return None, {}, f"cannot be read: {error.strerror or error}"
    except Exception as error:  # a fault of the program in one plan must not take the others down
        return None, {}, f"could not be inspected ({type(error).__name__}: {error})"
    texts = {name: source.text for name, source in inspection.sources.items()}
    plain = to_plain(inspection)
    if not files.troubles:
        cache.put(path, texts, plain)
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
