"""What editors hold that nobody has saved yet: a language server tells it to its own user's commands on this machine.

Each server listens at a socket in a folder that only its user may enter. Whoever connects is told the texts of all open
documents, by path, as one JSON object, and nothing is taken from it. Where there are no such sockets nobody is told.
"""

from __future__ import annotations

import json
import os
import socket
import stat
import tempfile
from collections.abc import Callable
from contextlib import suppress
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import asyncio

PATIENCE = 0.5
"""Seconds in which a server has to answer."""
LARGEST = 1 << 26
"""Bytes of an answer that are read."""


def folder() -> str | None:
    """Where the sockets of this user are; None where it cannot be theirs alone."""
    if not hasattr(socket, "AF_UNIX"):
        return None
    try:
        base = os.environ.get("XDG_RUNTIME_DIR") or tempfile.gettempdir()
        place = os.path.join(base, f"railbond-{os.getuid()}")
        with suppress(FileExistsError):
            os.mkdir(place, 0o700)
        state = os.lstat(place)
    except OSError:
        return None
    own = stat.S_ISDIR(state.st_mode) and state.st_uid == os.getuid() and not state.st_mode & 0o077
    return place if own else None


async def tell(texts: Callable[[], dict[str, str]]) -> None:
    """Tells whoever asks what is open, until it is cancelled."""
    import asyncio

    async def answer(_reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        with suppress(OSError):
            writer.write(json.dumps(texts()).encode())
            await writer.drain()
            writer.close()

    place = folder()
    if place is None:
        return
    path = os.path.join(place, str(os.getpid()))
    with suppress(OSError):
        os.unlink(path)
    try:
        server = await asyncio.start_unix_server(answer, path)
    except OSError:
        return  # a folder whose name is too long for a socket, or a disk that is full
    try:
        async with server:
            await server.serve_forever()
    finally:
        with suppress(OSError):
            os.unlink(path)


def unsaved() -> dict[str, str]:
    """The texts that are open in this user's editors, by their real paths."""
    place, found = folder(), dict[str, str]()
    for name in os.listdir(place) if place else ():
        found |= _asked(os.path.join(str(place), name))
    return found


def _asked(path: str) -> dict[str, str]:
    with socket.socket(socket.AF_UNIX) as one:
        one.settimeout(PATIENCE)
        try:
            one.connect(path)
            told: Any = json.loads(_whole(one))
        except ConnectionRefusedError:
            with suppress(OSError):
                os.unlink(path)  # of a server that was killed
            return {}
        except (OSError, ValueError):
            return {}
    known = told.items() if isinstance(told, dict) else ()
    return {os.path.realpath(path): text for path, text in known if isinstance(text, str)}


def _whole(one: socket.socket) -> bytes:
    parts, size = [], 0
    while (part := one.recv(1 << 16)) and size <= LARGEST:
        parts.append(part)
        size += len(part)
    return b"".join(parts)
