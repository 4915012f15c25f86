"""Inspections as plain lists and texts, to be sent from process to process and kept between runs."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from railbond.findings import Claim, Finding, Fix, Step
from railbond.inspection import Inspection, Remark
from trackplan.edit import Edit
from trackplan.span import Source, Span


def to_plain(inspection: Inspection) -> dict[str, Any]:
    """All but the texts themselves, of which only the paths are named."""
    return {
        "files": list(inspection.sources),
        "findings": [_finding(one) for one in inspection.findings],
        "remarks": [list(one) for one in inspection.remarks],
    }


def from_plain(plain: dict[str, Any], texts: dict[str, str]) -> Inspection:
    """The inspection again. Raises KeyError, TypeError or ValueError for what was not made by `to_plain`."""
    sources = {path: Source(path, texts[path]) for path in plain["files"]}
    findings = [_back(*one) for one in plain["findings"]]
    for at in (at for one in findings for at in _places(one)):
        if not 0 <= at.start <= at.end <= len(sources[at.path].text):
            raise ValueError(f"no such place: {at}")
    return Inspection(sources, findings, {}, tuple(Remark(str(path), str(text)) for path, text in plain["remarks"]))


def _places(finding: Finding) -> Iterator[Span]:
    """Every place that a finding speaks of."""
    yield finding.at
    yield from (step.at for step in finding.why if step.at)
    yield from (edit.at for fix in finding.fixes for edit in fix.edits)


def _finding(one: Finding) -> list[Any]:
    why = [[list(step.at) if step.at else None, str(step.text), step.claims] for step in one.why]
    fixes = [[str(fix.words), [_edit(edit) for edit in fix.edits], *fix[2:]] for fix in one.fixes]
    also = [_finding(other) for other in one.also]
    head = [one.rule, one.level, one.happens, list(one.at), str(one.message)]
    names = [str(name) for name in one.names]
    return [*head, why, one.setting, fixes, names, list(one.cautions), also, one.positions, one.claims]


def _edit(edit: Edit) -> list[Any]:
    return [list(edit.at), *(str(one) if isinstance(one, str) else one for one in edit[1:])]


def _back(*parts: Any) -> Finding:
    rule, level, happens, at, message, why, setting, fixes, names, cautions, also, positions, claims = parts
    steps = tuple(Step(Span(*place) if place else None, text, _claims(own)) for place, text, own in why)
    mends = tuple(
        Fix(words, tuple(Edit(Span(*place), *rest) for place, *rest in edits), plain, changes, proven, tuple(then))
        for words, edits, plain, changes, proven, then in fixes
    )
    others = tuple(_back(*one) for one in also)
    known = tuple(names), tuple(cautions), others, _positions(positions), _claims(claims)
    return Finding(rule, level, happens, Span(*at), message, steps, setting, mends, *known)


def _positions(plain: Any) -> tuple[tuple[str, str], ...]:
    return tuple((switch, position) for switch, position in plain)


def _claims(plain: Any) -> tuple[Claim, ...]:
    return tuple(Claim(says, tuple(of), tuple(legs), _positions(stands)) for says, of, legs, stands in plain)
