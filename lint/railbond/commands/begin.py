"""Writes a first plan to change: an oval, a spur, a loop, a yard or a module.

Each is sound and says line by line what it is. `railbond begin spur` writes
spur.trackplan in this folder, and `-o` takes another name; a file that is there
is never written over. Without a name it tells which there are.
"""

from __future__ import annotations

import os
from argparse import ArgumentParser, Namespace

from railbond.saying import complain, say
from railbond.usage import UsageError, near

SUFFIX = ".trackplan"


def arguments(parser: ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("name", nargs="?", metavar="NAME", help="which plan: oval, spur, loop, yard or module")
    parser.add_argument("-o", dest="out", metavar="FILE", help="where to write it (NAME.trackplan unless said)")


def run(options: Namespace) -> int:
    """Writes the plan, and tells what to do with it."""
    plans = beginnings()
    if options.name is None:
        say("\n".join(f"{name:<8}{text.splitlines()[0].removeprefix('# ')}" for name, text in plans.items()))
        return 0
    text = plans.get(options.name)
    if text is None:
        raise UsageError(f"there is no first plan {options.name!r}{near(options.name, plans)}: {', '.join(plans)}")
    path = options.out or f"{options.name}{SUFFIX}"
    if not path.endswith(SUFFIX):
        raise UsageError(f"a plan's name ends in {SUFFIX}, and {path!r} does not")
    return _written(path, text)


def beginnings() -> dict[str, str]:
    """The plans by name."""
    from importlib.resources import files

    folder = files("railbond.beginnings")
    found = sorted(one.name for one in folder.iterdir() if one.name.endswith(SUFFIX))
    return {name.removesuffix(SUFFIX): folder.joinpath(name).read_text(encoding="utf-8") for name in found}


def _written(path: str, text: str) -> int:
    """A new file, whole or not at all; what is there stays."""
    from railbond.writing import put

    try:
        if os.path.lexists(path):
            complain(f"{path}: is there already; take another name with -o")
            return 2
        put(os.path.realpath(path), text.encode("utf-8"), None)
    except OSError as error:
        complain(f"{path}: cannot be written: {error.strerror or error}")
        return 2
    say(f"{path} is written, and sound. Change it to your track, then ask `railbond inspect {path}`;")
    say(f"`railbond draw {path} -o track.svg` shows it, and `railbond rules feeder` explains a line.")
    return 0
