"""Serves an editor: a language server over standard input and output.

Editors start it by themselves; README says how to tell them. It speaks LSP 3.17
and needs the extra `editor`: `pip install '.[editor]'` in the clone.
"""

from __future__ import annotations

import gc
import sys
from argparse import ArgumentParser, Namespace
from errno import EBADF

from railbond.usage import UsageError


def arguments(parser: ArgumentParser) -> None:
    """Takes nothing: editors and servers agree on all else between them."""


def run(options: Namespace) -> int:
    """Serves until the editor goes away."""
    try:
        from railbond.editor.features import start
    except ModuleNotFoundError as error:
        if error.name is None or error.name.split(".")[0] not in ("pygls", "lsprotocol"):
            raise
        raise UsageError(
            "the editor's part is not installed: `pip install '.[editor]'` in the clone brings it"
        ) from None
    if sys.stdin is None:
        raise OSError(EBADF, "standard input is closed", "-")
    gc.set_threshold(100_000)  # it works for days, and is not to grow by what only looking for waste clears up
    start()
    return 0
