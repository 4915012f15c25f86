"""What the commands that make paper for the bench have in common."""

from __future__ import annotations

import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Sequence


def paper_arguments(parser: ArgumentParser, faces: Sequence[str]) -> None:
    """How the paper is told, and where it goes."""
    parser.add_argument("--as", dest="face", choices=faces, default="text", help="text unless said")
    parser.add_argument("-o", dest="out", metavar="FILE", help="where to write it (standard output unless said)")
    parser.set_defaults(refuse=parser.error)


def needs_pages(options: Namespace) -> None:
    """Refuses a page where the library that makes it is not installed."""
    from importlib.util import find_spec

    if options.face == "page" and find_spec("jinja2") is None:
        options.refuse("--as page needs Jinja2: install it with `pip install 'railbond[page]'`")


def written(options: Namespace, text: str) -> int:
    """Writes the paper, and gives the exit status. Line ends stay as they are: those of CSV are its own."""
    if options.out is None:
        print(text, end="" if text.endswith("\n") else "\n")
        return 0
    try:
        with open(options.out, "w", encoding="utf-8", newline="") as file:
            file.write(text if text.endswith("\n") else f"{text}\n")
    except OSError as error:
        print(f"railbond: {options.out}: cannot be written: {error.strerror or error}", file=sys.stderr)
        return 2
    return 0
