"""Shows a plan's railroad as a live page: throw its points, walk its findings, drive a train.

The page follows the plan as it is saved, and as it is typed where an editor with a server of ours has it open. It keeps
the points as they were thrown, and stays with the last picture while the text does not read. It is served to this
machine only, at an address that holds a secret, and ends with Ctrl-C.
"""

from __future__ import annotations

import os
import time
from argparse import ArgumentParser, ArgumentTypeError, Namespace
from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Any

from railbond.doorway import Opened, enter
from railbond.saying import say
from railbond.settings import settings_for
from railbond.unsaved import unsaved
from railbond.versions import today, version

from ._plan import files_for, opened, plan_argument

if TYPE_CHECKING:
    from railbond.faces.live.changes import LastShown

EVERY = 0.25
"""Seconds between two looks at the files."""


def arguments(parser: ArgumentParser) -> None:
    """What the command takes."""
    plan_argument(parser, "the plan to show")
    parser.add_argument("--port", type=_port, default=0, help="the port to serve at (any that is free unless said)")
    parser.add_argument("--open", action="store_true", help="open it in the browser")


def _port(text: str) -> int:
    if not (text.isdecimal() and len(text) < 6 and int(text) < 65_536):
        raise ArgumentTypeError(f"expected a port from 0 to 65535, not {text!r}")
    return int(text)


def run(options: Namespace) -> int:
    """Serves the page until Ctrl-C."""
    from railbond.faces.live.changes import LastShown
    from railbond.faces.live.page import page
    from railbond.loopback import Loopback

    found = opened(options.path, files_for(options))
    if found is None:
        return 2
    last = LastShown()
    last.news(shown(found))
    served = Loopback(lambda: page(last.shown | {"version": served.version}, "news"), options.port)
    seen, typed = _stamps(found.sources), _typed(found.sources)
    served.start()
    try:
        say(f"The railroad of {options.path}: {served.address}")
        say("It follows the plan as you type and save it. Ctrl-C ends it.")
        if options.open:
            import webbrowser

            webbrowser.open(served.address)
        while True:
            time.sleep(EVERY)
            now, texts = _stamps(seen), _typed(seen)
            if (now, texts) != (seen, typed):
                news, sources = _news(options, texts)
                seen, typed = _stamps(sources) or now, texts
                served.tell(_since(last, news))
    except KeyboardInterrupt:
        return 0
    finally:
        served.stop()


def shown(found: Opened) -> dict[str, Any]:
    """What the page shows of a plan."""
    from railbond.faces.drawing.sheets import PAPERS, TitleBlock
    from railbond.faces.live.page import railroad

    block = TitleBlock(today(), f"{found.root} ({version(found.root)})")
    return railroad(found.facts, found.placed, printed=(block, PAPERS["a4"]))


def _since(last: LastShown, news: dict[str, Any]) -> dict[str, Any]:
    """News with what is new in them beside what was told last, for pages that have that."""
    if "shown" not in news:
        return news
    told = last.news(news["shown"], last.shown["number"])
    return told | {"shown": last.shown}


def _typed(paths: Iterable[str]) -> dict[str, str]:
    """What editors hold of some files, by their real paths."""
    own = {os.path.realpath(path) for path in paths}
    return {path: text for path, text in unsaved().items() if path in own}


def _news(options: Namespace, typed: Mapping[str, str] | None = None) -> tuple[dict[str, Any], list[str]]:
    """The railroad as it is now, or why the last picture stays. `typed` is what editors hold."""
    files, held = files_for(options), typed or {}

    def open_text(path: str) -> str:
        return held.get(os.path.realpath(path)) or files.open_text(path)

    try:
        found = enter(options.path, open_text, settings=settings_for(files, options.path))
        sources = list(found.sources)
        if files.troubles:
            return {"stale": f"{files.troubles[0]}. This is how it was."}, sources
        return _told(found), sources
    except OSError as error:
        return {"stale": f"The plan cannot be read: {error.strerror or error}. This is how it was."}, []


def _told(found: Opened) -> dict[str, Any]:
    """What the page is told of a plan that can be read: the railroad, or which lines say nothing."""
    from railbond.faces.live.electrics import told
    from railbond.faces.places import unread

    broken = [one for one in found.placed if one.rule == "syntax"]
    if not broken:
        return {"shown": shown(found)}
    words = unread([found.sources[one.at.path].line_of(one.at.start) + 1 for one in broken[:8]])
    return {"stale": words, "findings": told(found.facts, found.placed)}


def _stamps(paths: Any) -> dict[str, tuple[int, int] | None]:
    """When each file was written last, and its size; None where it is not there."""
    found: dict[str, tuple[int, int] | None] = {}
    for path in paths:
        try:
            status = os.stat(path)
            found[path] = status.st_mtime_ns, status.st_size
        except OSError:
            found[path] = None
    return found
