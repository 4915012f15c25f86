"""The command line. Every file of `commands` is a command of its name; only the one asked for is loaded."""

from __future__ import annotations

import argparse
import atexit
import gc
import os
import sys
from argparse import SUPPRESS, ArgumentParser, HelpFormatter, Namespace
from collections.abc import Callable, Sequence
from contextlib import suppress
from io import TextIOWrapper

from railbond.saying import complain, say
from railbond.usage import UsageError
from trackplan.typed import Any, Protocol, cast

vars(argparse)["_"] = str  # all words are English here: to look for others loads a module and asks the disk

STOPPED = 130
"""The exit status of what was stopped with Ctrl-C, as shells have it."""

TRACE = "RAILBOND_TRACE"
"""The environment variable that shows where the program broke off."""


class Command(Protocol):
    """A module of `commands`: its docstring is its help, the first line of it its summary."""

    __doc__: str | None
    arguments: Callable[[ArgumentParser], None]
    run: Callable[[Namespace], int]


def main(argv: Sequence[str] | None = None) -> int:
    """Runs a command and gives its exit status, of which 1 always means that something was found. A reader
    that went away ends it quietly; whatever else stands in its way is one line, and status 2."""
    try:
        _make_ready()
        gc.set_threshold(5_000_000)  # a plan is many small things that stay: to look for waste takes a tenth
        atexit.register(gc.freeze)  # and none of it is worth looking through when the process ends
        status = _run(list(sys.argv[1:] if argv is None else argv))
        for stream in (sys.stdout, sys.stderr):
            stream.flush()
        return status
    except KeyboardInterrupt:
        with suppress(OSError):
            sys.stdout.flush()
        return _told("stopped before the end: there is no whole answer", STOPPED)
    except BrokenPipeError:
        _abandon()
        return 141
    except OSError as error:
        return _told(_in_the_way(error))
    except Exception as error:
        if os.environ.get(TRACE):
            raise
        return _told(_at_fault(error))


def _make_ready() -> None:
    """Has a character that the terminal does not have spelled out. Raises OSError where nobody could read an answer."""
    if sys.stderr is None:
        sys.stderr = open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115 - as long as the process
    for stream in (sys.stdout, sys.stderr, sys.stdin):
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(errors="replace" if stream is sys.stdin else "backslashreplace")
    if sys.stdout is None:
        raise OSError(0, "standard output is closed")


def _told(text: str, status: int = 2) -> int:
    """Says why there is no answer, or no whole one, if anybody can hear it."""
    with suppress(OSError):
        complain(text)
        sys.stderr.flush()
    _abandon()
    return status


def _in_the_way(error: OSError) -> str:
    why = error.strerror or str(error)
    try:
        os.getcwd()
    except OSError:
        return f"the folder that we are in is gone: {why}"
    return f"{error.filename}: {why}" if error.filename else f"the answer cannot be written: {why}"


def _at_fault(error: Exception) -> str:
    trace = error.__traceback__
    while trace and trace.tb_next:
        trace = trace.tb_next
    where = f" in line {trace.tb_lineno} of {trace.tb_frame.f_globals.get('__name__')}" if trace else ""
    what = f"{type(error).__name__}: {error}{where}"
    return f"broke off by a fault of its own, not of the plan ({what}); {TRACE}=1 in the environment shows all of it"


def _abandon() -> None:
    """Lets what is still to be written go nowhere, so that the end of the process has nothing to complain of."""
    nowhere = os.open(os.devnull, os.O_WRONLY)
    for stream in (sys.stdout, sys.stderr):
        with suppress(OSError, ValueError, AttributeError):
            os.dup2(nowhere, stream.fileno())
    os.close(nowhere)


def _run(argv: list[str]) -> int:
    command = _command(argv[0]) if argv else None
    if command is None:
        return _overview(argv)
    parser = _Parser(f"railbond {argv[0]}", description=command.__doc__, formatter_class=_help)
    command.arguments(parser)
    try:
        return command.run(parser.parse_args(argv[1:]))
    except SystemExit as stop:
        return int(stop.code or 0)
    except UsageError as error:
        return _refused(parser, str(error))


def _refused(parser: ArgumentParser, why: str) -> int:
    say(f"{parser.format_usage()}{parser.prog}: error: {why}", to=sys.stderr)
    return 2


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
    from railbond.usage import near

    commands = names()
    summaries = {name: (_command(name).__doc__ or "").splitlines()[0] for name in commands}
    listed = [
        fill(line, 80, initial_indent=f"  {name:<11}", subsequent_indent=" " * 13) for name, line in summaries.items()
    ]
    parser = _Parser(
        "railbond",
        usage="railbond COMMAND …",
        description="\n\n".join(
            [summary or "", "\n".join(["commands:", *listed]), "`railbond COMMAND --help` tells more."]
        ),
        formatter_class=_help,
    )
    parser.add_argument("--version", action="version", version=f"railbond {__version__}")
    parser.add_argument("command", nargs="?", help=SUPPRESS)
    try:
        command = parser.parse_known_args(argv)[0].command
    except SystemExit as stop:
        return int(stop.code or 0)
    if command is None:
        parser.print_help(sys.stderr)
        return 2
    return _refused(parser, f"there is no command {command!r}{near(command, commands)}")


class _Parser(ArgumentParser):
    """Says what it has to say as all others do: the library's own way keeps it from nobody that nobody got it."""

    def _print_message(self, message: str, file: Any = None) -> None:
        say(message, end="", to=file or sys.stderr)


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
