"""The command line. Every file of `commands` is a command of its name; only the one asked for is loaded."""

from __future__ import annotations

import gc
import os
import sys
from argparse import SUPPRESS, ArgumentParser, HelpFormatter, Namespace
from collections.abc import Callable, Sequence
from io import TextIOWrapper
from typing import Protocol, cast


class Command(Protocol):
    """A module of `commands`: its docstring is its help, the first line of it its summary."""

    __doc__: str | None
    arguments: Callable[[ArgumentParser], None]
    run: Callable[[Namespace], int]


def main(argv: Sequence[str] | None = None) -> int:
    """Runs a command and gives its exit status. Ctrl-C and a reader that went away end it quietly, and
    a character that the terminal does not have is spelt out."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")
    gc.set_threshold(100_000)  # a plan is many small things that stay: looking for waste less often halves the time
    try:
        status = _run(list(sys.argv[1:] if argv is None else argv))
        sys.stdout.flush()
        return status
    except KeyboardInterrupt:
        return 130
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 141


def _run(argv: list[str]) -> int:
    command = _command(argv[0]) if argv else None
    if command is None:
        return _overview(argv)
    parser = ArgumentParser(f"railbond {argv[0]}", description=command.__doc__, formatter_class=_help)
    command.arguments(parser)
    return command.run(parser.parse_args(argv[1:]))


def _command(name: str) -> Command | None:
    """The command of that name, if there is one."""
    if not name.isidentifier() or name.startswith("_"):
        return None
    from importlib import import_module

    whole = f"railbond.commands.{name}"
    try:
        return cast(Command, import_module(whole))
    except ModuleNotFoundError as error:
        if error.name != whole:
            raise
        return None


def _overview(argv: list[str]) -> int:
    """What is said where no command is named: help, version, or that there is no such command."""
    from textwrap import fill

    from railbond import __doc__ as summary
    from railbond import __version__
    from railbond.commands._near import near

    commands = names()
    summaries = {name: (_command(name).__doc__ or "").splitlines()[0] for name in commands}
    listed = [
        fill(line, 80, initial_indent=f"  {name:<10}", subsequent_indent=" " * 12) for name, line in summaries.items()
    ]
    parser = ArgumentParser(
        "railbond",
        usage="railbond COMMAND …",
        description="\n\n".join(
            [summary or "", "\n".join(["commands:", *listed]), "`railbond COMMAND --help` tells more."]
        ),
        formatter_class=_help,
    )
    parser.add_argument("--version", action="version", version=f"railbond {__version__}")
    parser.add_argument("command", nargs="?", help=SUPPRESS)
    command = parser.parse_known_args(argv)[0].command
    if command is None:
        parser.print_help(sys.stderr)
        return 2
    parser.error(f"there is no command {command!r}{near(command, commands)}")


def _help(prog: str) -> HelpFormatter:
    """Help in 80 columns: to ask for the terminal's width would load a module that nothing else needs."""
    return _Paragraphs(prog, width=80)


class _Paragraphs(HelpFormatter):
    """Keeps the paragraphs of a description, and lines that begin with a blank as they are."""

    def _fill_text(self, text: str, width: int, indent: str) -> str:
        fill = super()._fill_text
        parts = text.strip().split("\n\n")
        return "\n\n".join(part if "\n " in part else fill(part, width, indent) for part in parts)


def names() -> list[str]:
    """The names of all commands."""
    from railbond import commands, folder

    return folder.names(commands.__path__)
