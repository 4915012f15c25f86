"""The texts of plans as the editor has them: open buffers first, then the files on disk."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from railbond.dependents import Uses, uses
from railbond.doorway import NOBODYS
from railbond.files import Files, nearest_settings
from railbond.reach import SUFFIX, FolderBounds
from railbond.settings import ClubSettings, settings_of
from trackplan.gather import normal
from trackplan.span import Source

MOST_FOLDERS = 2000
"""Folders looked through for plans: a workspace may be a whole disk."""


class Buffer(NamedTuple):
    """An open document: its text, the editor's number for it, and the address by which the editor calls it."""

    text: str
    version: int | None
    uri: str


class Texts:
    """Open buffers by path, and files read from disk once for each time they were written."""

    def __init__(self) -> None:
        self.buffers: dict[str, Buffer] = {}
        self.folders: list[str] = []
        self._read: dict[str, tuple[tuple[int, int], str]] = {}
        self._sources: dict[str, Source] = {}
        self._uses: dict[str, tuple[str, Uses]] = {}
        self._plans: dict[str, list[str]] = {}
        self._settings: dict[str, tuple[str, ClubSettings]] = {}

    def open_text(self, path: str) -> str:
        """The text of a file as it stands by now. Raises OSError where there is none."""
        if buffer := self.buffers.get(normal(path)):
            return buffer.text
        stat = os.stat(path)
        stamp = stat.st_mtime_ns, stat.st_size
        known = self._read.get(path)
        if known is None or known[0] != stamp:
            known = self._read[path] = (stamp, Files().open_text(path))
        return known[1]

    def source(self, path: str) -> Source:
        """The same as a source. Raises OSError."""
        text = self.open_text(path)
        known = self._sources.get(path)
        if known is None or known.text is not text:
            known = self._sources[path] = Source(path, text)
        return known

    def settings(self, plan: str) -> ClubSettings:
        """The settings that count for a plan, as they stand on disk by now."""
        found = nearest_settings(os.path.dirname(plan)) if os.path.isabs(plan) else None
        if found is None:
            return NOBODYS
        try:
            text = self.open_text(found)
        except OSError:
            return NOBODYS
        known = self._settings.get(found)
        if known is None or known[0] != text:
            known = self._settings[found] = (text, settings_of(Source(found, text)))
        return known[1]

    def bounds(self, plan: str) -> FolderBounds:
        """How far a plan may lead: as far as for a command, and within the folders that the editor has open."""
        settings = self.settings(plan)
        at = os.path.dirname(settings.reading.source.path) if settings.reading else ""
        bounds = FolderBounds([*self.folders, *(os.path.join(at, folder) for folder in settings.reach)])
        bounds.named(plan)
        return bounds

    def look_around(self) -> None:
        """Forgets which plans there are on disk, so that new ones are found."""
        self._plans.clear()

    def uses(self, path: str) -> dict[str, Uses]:
        """What every plan uses that may have to do with a file: all in the workspace, and all that are open."""
        return {plan: found for plan in self.around(path) if (found := self._used(plan)) is not None}

    def everywhere(self) -> list[str]:
        """Every plan of the workspace, and all that are open."""
        for folder in self.folders:
            if folder not in self._plans:
                self._plans[folder] = list(plans_below(folder))
        return list(dict.fromkeys([*(path for folder in self.folders for path in self._plans[folder]), *self.buffers]))

    def _used(self, path: str) -> Uses | None:
        try:
            text = self.open_text(path)
        except OSError:
            return None
        known = self._uses.get(path)
        if known is None or known[0] is not text:
            known = self._uses[path] = (text, uses(path, text))
        return known[1]

    def around(self, path: str) -> Iterable[str]:
        """The plans of a file's workspace folder, or of its own folder, and all that are open."""
        inside = [folder for folder in self.folders if path.startswith(f"{folder.rstrip('/')}/")]
        folder = inside[0] if inside else os.path.dirname(path)
        if folder not in self._plans:
            self._plans[folder] = list(plans_below(folder))
        return dict.fromkeys([*self._plans[folder], *self.buffers])


def plans_below(folder: str) -> Iterator[str]:
    """The plans in a folder and below it, as far as MOST_FOLDERS go; hidden folders are left alone."""
    for seen, (at, folders, files) in enumerate(os.walk(folder or ".")):
        if seen >= MOST_FOLDERS:
            return
        folders[:] = sorted(name for name in folders if not name.startswith("."))
        yield from (normal(os.path.join(at, name)) for name in sorted(files) if name.endswith(SUFFIX))
