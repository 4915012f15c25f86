"""Which version of a plan was read: its revision in git, or the day on which its file was written."""

from __future__ import annotations

import os
import subprocess
from datetime import UTC, datetime


def version(path: str) -> str:
    """Such as `revision 1a2b3c4 of 2026-05-01`, `revision 1a2b3c4, changed since`, or `written 2026-05-01`; empty for
    what is no file."""
    folder, name = os.path.split(os.path.abspath(path))
    last = _git(folder, "log", "-1", "--format=%h %cs", "--", name)
    if last:
        revision, day = last.split()
        changed = _git(folder, "status", "--porcelain", "--", name)
        return f"revision {revision}, changed since" if changed else f"revision {revision} of {day}"
    try:
        written = os.stat(path).st_mtime
    except OSError:
        return ""
    return f"written {datetime.fromtimestamp(written, UTC).astimezone():%Y-%m-%d}"


def today() -> str:
    """The day, as SOURCE_DATE_EPOCH has it where that is set, so that what is made twice is the same."""
    epoch = os.environ.get("SOURCE_DATE_EPOCH", "")
    now = datetime.fromtimestamp(int(epoch), UTC) if epoch.isdigit() else datetime.now(UTC).astimezone()
    return f"{now:%Y-%m-%d}"


def _git(folder: str, *words: str) -> str:
    """What git says in a folder; nothing where it refuses or is not there."""
    try:
        done = subprocess.run(
            ["git", "-C", folder, *words], capture_output=True, check=False, stdin=subprocess.DEVNULL, text=True
        )
    except OSError:
        return ""
    return done.stdout.strip() if done.returncode == 0 else ""
