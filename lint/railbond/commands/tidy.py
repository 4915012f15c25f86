"""Lays plans out in columns. Nothing that they say changes.

Broken lines stay as they are. Exit status: 0 when all was well, 1 with --show
when something would change, 2 when a file cannot be read or written.
"""

from __future__ import annotations

from argparse import ArgumentParser, Namespace

from railbond.files import Files, Trouble
from railbond.saying import say

from ._plan import files_for, tell_troubles
from ._rewrite import arguments as rewriting_arguments
from ._rewrite import rewritten, tell_changed


def arguments(parser: ArgumentParser) -> None:
    """What the command takes."""
    rewriting_arguments(parser)


def run(options: Namespace) -> int:
    """Lays every plan out, and gives the exit status."""
    files = files_for(options)
    texts = {path: text for path in files.plans(options.paths) if (text := _laid_out(files, path)) is not None}
    changed = rewritten(files, texts, options.show)
    if not options.show:
        tell_changed(changed)
        if changed:
            say(f"{len(changed)} of {len(texts)} plans laid out anew")
        elif not files.troubles:
            say("All plans are tidy.")
    tell_troubles(files)
    return 2 if files.troubles else int(options.show and bool(changed))


def _laid_out(files: Files, path: str) -> str | None:
    """A plan's text in columns; None, and a trouble, where it cannot be had or would not say the same."""
    from trackplan.span import Source
    from trackplan.tidy import TidyError, tidy

    told = len(files.troubles)
    try:
        text = files.open_text(path)
        if len(files.troubles) > told:
            return None
        return tidy(Source(path, text))
    except OSError as error:
        files.trouble(path, error)
    except TidyError as error:
        files.troubles.append(Trouble(path, None, f"is left as it is: {error}"))
    return None
