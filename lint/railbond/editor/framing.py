"""Messages as they come in: each behind its headers. What is framed wrongly ends the connection, with a word."""

from __future__ import annotations

import re
from typing import BinaryIO

from railbond.saying import complain

LONGEST_HEADER = 4096
LARGEST = 256 * 1024 * 1024
_HEADER = re.compile(rb"[!-9;-~]+:[ \t]*[^\r\n]*\r\n")
_LENGTH = re.compile(rb"content-length:[ \t]*(\d{1,9})[ \t]*\r\n", re.IGNORECASE)


class FramedInput:
    """Standard input, as the library reads it: header lines, then as many bytes as they promise. At the first frame
    that is none, the input is at its end and `broken` says why."""

    def __init__(self, file: BinaryIO) -> None:
        self.file = file
        self.broken = ""
        self._length: int | None = None

    def readline(self) -> bytes:
        """The next header line, its name as the library spells it; nothing at the end."""
        line = b"" if self.broken else self.file.readline(LONGEST_HEADER)
        if not line:
            return line
        if line == b"\r\n":
            return line if self._length else self._break("a message begins without a Content-Length of at least 1")
        found = _LENGTH.fullmatch(line)
        if found and 0 < int(found[1]) <= LARGEST:
            self._length = int(found[1])
            return b"Content-Length: %d\r\n" % self._length
        if found or line.lower().startswith(b"content-length") or not _HEADER.fullmatch(line):
            return self._break(f"a header cannot be understood: {line[:80]!r}")
        return line

    def read(self, size: int) -> bytes:
        """The body of a message; nothing where it ends before it should."""
        self._length = None
        body = self.file.read(size)
        return body if len(body) == size else self._break(f"a message ends after {len(body)} of {size} bytes")

    def _break(self, why: str) -> bytes:
        self.broken = why
        complain(f"the connection to the editor is closed: {why}")
        return b""
