"""What the commands that make paper for the bench have in common, and how every command writes what `-o` asks for."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Iterable, Sequence

from railbond.saying import complain, harmless, say
from railbond.usage import UsageError


def paper_arguments(parser: ArgumentParser, faces: Sequence[str]) -> None:
    """How the paper is told, and where it goes."""
    parser.add_argument("--as", dest="face", choices=faces, default="text", help="text unless said")
    parser.add_argument("-o", dest="out", metavar="FILE", help="where to write it (standard output unless said)")


def needs_pages(options: Namespace) -> None:
    """Refuses a page where the library that makes it is not installed."""
    from importlib.util import find_spec

    if options.face == "page" and find_spec("jinja2") is None:
        raise UsageError("--as page needs Jinja2: install it with `pip install '.[page]'` in the clone")


def written(out: str | None, text: str, read: Iterable[str]) -> int:
    """Tells a text, or writes it to the file that `-o` names; gives the exit status.

    Line ends stay as they are: those of CSV are its own. What was `read` is never written over.
    """
    text = harmless(text if text.endswith("\n") else f"{text}\n")
    if out is None:
        say(text, end="", painted=True)
        return 0
    from railbond.writing import write

    try:
        write(out, text, read)
    except OSError as error:
        complain(f"{out}: cannot be written: {error.strerror or error}")
        return 2
    return 0
