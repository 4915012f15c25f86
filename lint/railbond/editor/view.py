"""What an answer needs: the document that was asked about, the plan that holds it, and the place in it."""

from __future__ import annotations

from typing import NamedTuple

from lsprotocol.types import ClientCapabilities, Position

from trackplan.span import Source

from .places import Places
from .store import OpenPlan, PlanStore


class View(NamedTuple):
    store: PlanStore
    places: Places
    client: ClientCapabilities
    path: str

    @property
    def source(self) -> Source:
        """The document's text as it stands. Raises OSError where there is none."""
        return self.store.texts.source(self.path)

    @property
    def plan(self) -> OpenPlan:
        """The plan in whose eyes the document is read: the first that holds it. Raises OSError."""
        readers = self.store.readers(self.path)
        return readers[0] if readers else self.store.plan(self.path)

    def offset(self, position: Position) -> int:
        return self.places.offset(self.source, position)
