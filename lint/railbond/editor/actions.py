"""Quick fixes, and the one action that makes all the plain ones."""

from __future__ import annotations

import logging
from collections.abc import Iterator
from contextlib import suppress
from math import inf

from lsprotocol.types import CodeAction, CodeActionKind, CodeActionParams, WorkspaceEdit

from railbond.circuit.effort import Budget, OutOfEffort, at_most
from railbond.findings import Finding, Fix
from railbond.saying import harmless

from .changes import edits_of, line_edits, workspace_edit
from .diagnostics import diagnostic
from .store import OpenPlan
from .view import View

log = logging.getLogger(__name__)

ALL = "mend all that a cut, a drop or a swap can mend"
ALL_KIND = CodeActionKind.SourceFixAll
EFFORT = 12_000.0
"""Steps that the trials of one request may take: half a second, however many findings it asks about."""
WHOLE, LEAST = 18_000.0, 6_000.0
"""Steps that one request may take in all, what it took to inspect the plan among them, as far as that leaves the least
for the trials, and for mending all at once."""
WIRE = "write the wiring that is missing"
WIRE_KIND = f"{CodeActionKind.Source.value}.wire"
BARE = frozenset(("endplate-unfed", "unfed-rail", "unfed-frog", "reversing-without-reverser"))
"""Rules whose findings say that wiring is missing."""


def actions(view: View, params: CodeActionParams) -> list[CodeAction]:
    """The fixes of the findings in a range, the proven ones first; and, where asked for, all plain ones at once."""
    found: list[CodeAction] = []
    whole, _ = Budget(WHOLE), view.plan.inspection
    if _wanted(params, CodeActionKind.QuickFix):
        found += _quick_fixes(view, params, min(EFFORT, max(LEAST, whole.left - LEAST)))
    if (
        _wanted(params, ALL_KIND)
        and not view.plan.is_meet
        and any(_is_plain(view, finding) for finding in view.plan.inspection.findings)
    ):
        action = CodeAction(ALL, kind=ALL_KIND, data=view.places.uri(view.path))
        if not _resolves_edits(view):
            action = resolved(view, action, max(LEAST, whole.left))
        if not action.edit or action.edit.changes or action.edit.document_changes:  # one that does nothing is none
            found.append(action)
    later = _resolves_edits(view)  # wiring takes a while: it is not worked out unless somebody asks for it
    if (later or params.context.only) and _wanted(params, WIRE_KIND) and not view.plan.is_meet and _is_bare(view):
        action = CodeAction(WIRE, kind=WIRE_KIND, data=view.places.uri(view.path))
        found.append(action if later else resolved(view, action))
    return found


def _is_bare(view: View) -> bool:
    return view.path == view.plan.root and any(one.rule in BARE for one in view.plan.inspection.findings)


def resolved(view: View, action: CodeAction, most: float = inf) -> CodeAction:
    """The action with its edit: the wiring that is missing, or all plain fixes made, round by round, each proven with
    those before it, in so many steps at `most`."""
    if action.kind == WIRE_KIND:
        return _wired(view, action)
    from railbond.mend.overlay import Overlay
    from railbond.mend.rounds import mend

    plan = view.plan
    overlay = Overlay([plan.root], plan.open_text, plan.inspected)
    overlay.put(plan.root, plan.inspection)
    with suppress(OutOfEffort), at_most(most):  # whatever was made by then is proven
        mend(overlay, most=most, judged=lambda _, finding: plan.settings.judged(finding))
    edits = {path: line_edits(view, plan.source(path), text) for path, text in overlay.texts.items()}
    action.edit = workspace_edit(view, edits)
    return action


def _wired(view: View, action: CodeAction) -> CodeAction:
    from railbond.design.wire import wire

    plan = view.plan
    try:
        text = wire(plan.root, plan.open_text).text
    except Exception:  # one that cannot be made is left out, never the other answers
        log.exception("%s could not be wired", plan.root)
        return action
    action.edit = workspace_edit(view, {plan.root: line_edits(view, plan.source(plan.root), text)})
    return action


def _wanted(params: CodeActionParams, kind: str) -> bool:
    """Whether the editor asks for a kind: `source` stands for `source.fixAll` too."""
    only = params.context.only
    return not only or any(kind == one or kind.startswith(f"{one}.") for one in map(_text, only))


def _text(kind: CodeActionKind | str) -> str:
    return kind.value if isinstance(kind, CodeActionKind) else kind


def _is_plain(view: View, finding: Finding) -> bool:
    return finding.at.path == view.path and any(fix.plain and fix.edits for fix in finding.fixes)


def _resolves_edits(view: View) -> bool:
    document = view.client.text_document
    support = document.code_action.resolve_support if document and document.code_action else None
    return bool(support and "edit" in support.properties)


def _quick_fixes(view: View, params: CodeActionParams, most: float) -> list[CodeAction]:
    source = view.source
    start, end = (view.places.offset(source, place) for place in (params.range.start, params.range.end))
    first, last = source.line_of(start), source.line_of(end)
    found: dict[str, CodeAction] = {}
    budget = Budget(most)
    for plan in view.store.readers(view.path):
        for finding in plan.inspection.findings:
            at = finding.at
            if at.path == view.path and source.line_of(at.start) <= last and source.line_of(at.end) >= first:
                for action in _of_finding(view, plan, finding, budget):
                    found.setdefault(action.title, action)
    return sorted(found.values(), key=lambda action: not action.is_preferred)


def _of_finding(view: View, plan: OpenPlan, finding: Finding, budget: Budget) -> Iterator[CodeAction]:
    """A finding's fixes; one that failed its trial is not offered, and the first that cures alone is preferred."""
    preferred = False
    for fix in plan.fixes(finding, budget):
        if fix.edits and (edit := _edit(view, plan, fix)):
            best = fix.proven == "alone" and fix.plain and not preferred
            preferred |= best
            yield CodeAction(
                title(fix),
                kind=CodeActionKind.QuickFix,
                diagnostics=[diagnostic(finding, plan, view.places)],
                is_preferred=best or None,
                edit=edit,
            )


def _edit(view: View, plan: OpenPlan, fix: Fix) -> WorkspaceEdit | None:
    """A fix as an edit; one that cannot be is left out, and the others are offered all the same."""
    try:
        return workspace_edit(view, edits_of(view, fix.edits, plan.inspection.sources))
    except (ValueError, KeyError, OSError) as error:
        log.warning("%s: a fix cannot be made and is not offered: %s (%s)", plan.root, fix.words, error)
        return None


def title(fix: Fix) -> str:
    """A fix in words, with what it changes and what its trial has shown."""
    changes = f" ({fix.changes})" if fix.changes else ""
    proof = {"alone": "", "together": "; cures together with other mends", "untried": "; not tried", "": ""}[fix.proven]
    return harmless(f"{fix.words}{changes}{proof}")
