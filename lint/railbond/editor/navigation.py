"""Going to a definition, finding every use, and renaming, across includes and meets."""

from __future__ import annotations

from collections.abc import Iterable

from lsprotocol.types import (
    DefinitionParams,
    DocumentHighlight,
    DocumentHighlightKind,
    DocumentHighlightParams,
    Location,
    PrepareRenameParams,
    PrepareRenamePlaceholder,
    ReferenceParams,
    RenameParams,
    TextEdit,
    WorkspaceEdit,
)

from trackplan.gather import beside
from trackplan.span import Span
from trackplan.statements import Include, Module, where

from .changes import workspace_edit
from .linked import at, definitions, everywhere, renamed
from .names import Name, Use
from .view import View


def definition(view: View, params: DefinitionParams) -> list[Location]:
    """Where a name is given; on a file's name, that file."""
    offset = view.offset(params.position)
    file = _file_at(view, offset)
    if file:
        return [view.places.location(view.store.texts.source(file), Span(file, 0, 0))]
    return _locations(view, definitions(view.store, _names(view, offset)))


def references(view: View, params: ReferenceParams) -> list[Location]:
    """Every place at which a name is used."""
    uses = everywhere(view.store, _names(view, view.offset(params.position)))
    with_definition = params.context.include_declaration
    return _locations(view, (use for use in uses if with_definition or not use.defines))


def highlights(view: View, params: DocumentHighlightParams) -> list[DocumentHighlight]:
    """The uses of a name in this document."""
    source, plan = view.source, view.plan
    use = plan.scope.at(view.path, view.offset(params.position))
    uses = plan.scope.uses[use.name] if use else []
    return [
        DocumentHighlight(
            view.places.span(source, one.at),
            DocumentHighlightKind.Write if one.defines else DocumentHighlightKind.Read,
        )
        for one in uses
        if one.at.path == view.path
    ]


def prepare_rename(view: View, params: PrepareRenameParams) -> PrepareRenamePlaceholder | None:
    """The name that would be changed; nothing where there is none."""
    uses = at(view.store, view.path, view.offset(params.position))
    if not uses:
        return None
    return PrepareRenamePlaceholder(view.places.span(view.source, uses[0].at), uses[0].name.text)


def rename(view: View, params: RenameParams) -> WorkspaceEdit:
    """Puts a new name everywhere. Raises Refused where it cannot be."""
    uses = renamed(view.store, view.path, view.offset(params.position), params.new_name)
    edits: dict[str, list[TextEdit]] = {}
    for use in uses:
        source = view.store.texts.source(use.at.path)
        edits.setdefault(use.at.path, []).append(TextEdit(view.places.span(source, use.at), params.new_name))
    return workspace_edit(view, edits)


def _names(view: View, offset: int) -> list[Name]:
    return [use.name for use in at(view.store, view.path, offset)]


def _locations(view: View, uses: Iterable[Use]) -> list[Location]:
    return [view.places.location(view.store.texts.source(use.at.path), use.at) for use in uses]


def _file_at(view: View, offset: int) -> str | None:
    """The file that a quoted name at a place means, where it can be read."""
    for one in view.plan.gathered.readings[view.path].statements:
        if isinstance(one, Include | Module) and one.at.start <= offset <= one.at.end:
            place = where(one, one.file)
            if place.start <= offset <= place.end:
                plan = view.store.readable(beside(view.path, one.file))
                return plan.root if plan else None
    return None
