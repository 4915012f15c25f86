"""The files that a plan names, as links, and everything in the workspace that has a name."""

from __future__ import annotations

from lsprotocol.types import DocumentLink, DocumentLinkParams, SymbolKind, WorkspaceSymbol, WorkspaceSymbolParams

from trackplan.gather import beside
from trackplan.statements import Include, Module, where

from .outline import KINDS, name_of
from .places import Places
from .store import PlanStore
from .view import View

MOST = 500


def links(view: View, params: DocumentLinkParams) -> list[DocumentLink]:
    """The name of each file that can be read, and where it leads."""
    found = []
    reading = view.plan.gathered.readings.get(view.path)
    for one in reading.statements if reading else ():
        if isinstance(one, Include | Module) and (plan := view.store.readable(beside(view.path, one.file))):
            at = view.places.span(view.source, where(one, one.file))
            found.append(DocumentLink(at, target=view.places.uri(plan.root)))
    return found


def workspace_symbols(store: PlanStore, places: Places, params: WorkspaceSymbolParams) -> list[WorkspaceSymbol]:
    """What any plan of the workspace gives a name to whose letters, in their order, hold those that are asked for."""
    asked, found = params.query.lower(), list[WorkspaceSymbol]()
    for path in store.texts.everywhere():
        plan = store.readable(path)
        reading = plan.gathered.readings.get(path) if plan else None
        for one in reading.statements if reading else ():
            name = name_of(one)
            if name and _holds(str(name).lower(), asked):
                kind = KINDS.get(type(one).__name__, SymbolKind.Variable)
                at = places.location(store.texts.source(path), where(one, name))
                found.append(WorkspaceSymbol(at, str(name), kind, container_name=type(one).__name__.lower()))
                if len(found) == MOST:
                    return found
    return found


def _holds(name: str, asked: str) -> bool:
    letters = iter(name)
    return all(letter in letters for letter in asked)
