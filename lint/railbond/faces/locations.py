"""Where SARIF says that things are: files by their addresses, and findings by marks that survive moved lines."""

from __future__ import annotations

import os
from collections import Counter
from collections.abc import Iterable, Iterator
from typing import Any

from railbond.findings import Finding

from .places import Sources

BASE = "TOP"
FINGERPRINT = "railbondFinding/v1"


class Locations:
    """Files by their addresses. What lies below `top` is told from there, by a base that is told once; anything else
    by its path, and a path that leads above the folder we are in by a whole address."""

    def __init__(self, top: str | None) -> None:
        self.top = os.path.realpath(top) if top else None

    def bases(self) -> dict[str, Any]:
        """The property of a run that says what the base means."""
        return {"originalUriBaseIds": {BASE: {"uri": f"{uri(self.top).rstrip('/')}/"}}} if self.top else {}

    def location(self, path: str) -> dict[str, Any]:
        """A SARIF artifactLocation."""
        if self.top and os.path.lexists(path):
            whole = os.path.join(os.path.realpath(os.path.dirname(os.path.abspath(path))), os.path.basename(path))
            below = os.path.relpath(whole, self.top)
            above = below == os.pardir or below.startswith(f"{os.pardir}{os.sep}")
            return {"uri": uri(whole)} if above else {"uri": uri(below), "uriBaseId": BASE}
        return {"uri": uri(path)}


def fingerprints(findings: Iterable[Finding], sources: Sources, where: Locations) -> Iterator[str]:
    """A mark for each finding that stays when lines above it come and go, and when its own is laid out anew: made of
    its rule, its file, the words of its line and its names, and of how many such came before it."""
    from hashlib import sha256

    seen: Counter[str] = Counter()
    for one in findings:
        source = sources[one.at.path]
        words = " ".join(source.line_text(source.line_of(one.at.start)).split())
        told = "\0".join([one.rule, where.location(one.at.path)["uri"], words, *one.names])
        mark = sha256(told.encode("utf-8", "surrogatepass")).hexdigest()[:32]
        seen[mark] += 1
        yield f"{mark}:{seen[mark]}"


def uri(path: str, separator: str = os.sep) -> str:
    """A path as a URI reference: relative stays relative, and a whole path becomes a `file:` URI."""
    from urllib.parse import quote

    if separator != "\\":
        name = quote(path.encode("utf-8", "surrogateescape"))
        return f"file://{name}" if name.startswith("/") else name
    path = path.replace("\\", "/")
    drive = f"{path[:2]}/" if path[1:3] == ":/" else ""
    name = quote(path[len(drive) :].encode("utf-8", "surrogatepass"))
    return f"file:///{drive}{name}" if drive else f"file:{name}" if name.startswith("//") else name
