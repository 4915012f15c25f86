"""Lessons as files that an editor can open: where a finding's code leads to."""

from __future__ import annotations

import os
from contextlib import suppress
from functools import lru_cache
from hashlib import sha256

from pygls.uris import from_fs_path

from railbond.batch.cache import folder
from railbond.faces.reference import page
from railbond.faces.teaching import lesson
from railbond.rules import all_rules
from railbond.writing import put


def _told(name: str) -> str:
    """A rule's lesson, or the page of a word of the language; empty where there is neither."""
    rule = next((rule for rule in all_rules() if rule.name == name), None)
    return lesson(rule) if rule else page(name, all_rules()) or ""


@lru_cache(256)
def lesson_uri(name: str) -> str | None:
    """The address of the lesson of a rule or the page of a word, written into the user's own cache folder when it is
    first asked for; None where there is none, or no place to write it."""
    told = _told(name)
    if not told:
        return None
    text = f"{told}\n".encode("utf-8", "backslashreplace")
    path = os.path.join(os.path.dirname(folder()), "lessons", sha256(text).hexdigest()[:12], f"{name}.txt")
    with suppress(OSError):
        os.makedirs(os.path.dirname(path), mode=0o700, exist_ok=True)
        if not os.path.exists(path):
            put(path, text, None)
        return str(from_fs_path(path))
    return None
