"""Prints what your shell needs to complete railbond's commands, options and files.

For bash: `railbond completion bash > ~/.local/share/bash-completion/completions/railbond`;
for zsh put `railbond completion zsh` into a file `_railbond` of a folder in `$fpath`; for tcsh
`railbond completion tcsh` goes to a file that `.tcshrc` sources. It needs the extra `completion`.
"""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from importlib import import_module

from railbond.saying import say
from railbond.usage import UsageError

SHELLS = ("bash", "zsh", "tcsh")
FILES = ("PATH", "FILE", "NEWER", "SEEN", "FOLDER")
"""What stands for files in the help of our commands, by how it begins."""


def arguments(parser: ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("shell", choices=SHELLS, help="the shell that is to complete")


def run(options: Namespace) -> int:
    """Prints the script, made from the parsers of all commands."""
    try:
        import shtab
    except ModuleNotFoundError:
        raise UsageError("it needs shtab: install it with `pip install '.[completion]'` in the clone") from None
    parser = whole_parser(shtab.FILE)
    say(shtab.complete(parser, options.shell))
    return 0


def whole_parser(files: object) -> ArgumentParser:
    """One parser with all commands in it; `files` tells each shell how a file is completed."""
    from railbond import commands, folder

    parser = ArgumentParser("railbond")
    parser.add_argument("--version", action="store_true", help="the number of this version")
    every = parser.add_subparsers()
    for name in folder.names(commands.__path__):
        module = import_module(f"railbond.commands.{name}")
        one = every.add_parser(name, help=(module.__doc__ or "").splitlines()[0])
        module.arguments(one)
        for action in one._actions:
            if str(action.metavar).startswith(FILES):
                action.complete = files  # type: ignore[attr-defined]
    return parser
