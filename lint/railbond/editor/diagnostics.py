"""Findings as the editor shows them, each with its related places."""

from __future__ import annotations

from collections.abc import Iterator

from lsprotocol.types import (
    CodeDescription,
    Diagnostic,
    DiagnosticRelatedInformation,
    DiagnosticSeverity,
    DiagnosticTag,
)

from railbond.findings import Finding, Level
from railbond.saying import harmless

from .lessons import lesson_uri
from .places import Places
from .store import OpenPlan

SEVERITIES: dict[Level, DiagnosticSeverity] = {
    "error": DiagnosticSeverity.Error,
    "warning": DiagnosticSeverity.Warning,
    "note": DiagnosticSeverity.Information,
}
IDLE = frozenset({"acceptance-unused", "reverser-idle"})
"""Rules that find what is there for nothing, which editors show faintly."""


def diagnostics(plan: OpenPlan, places: Places) -> dict[str, list[Diagnostic]]:
    """What a plan's rules have found, by file; a file without a fault has an empty list."""
    found: dict[str, list[Diagnostic]] = {path: [] for path in plan.inspection.sources}
    for finding in plan.inspection.findings:
        found[finding.at.path].append(diagnostic(finding, plan, places))
    return found


def diagnostic(finding: Finding, plan: OpenPlan, places: Places) -> Diagnostic:
    """One finding: what happens, in which setting, and the reason step by step."""
    return Diagnostic(
        range=places.span(plan.source(finding.at.path), finding.at),
        message=message(finding),
        severity=SEVERITIES[finding.level],
        code=finding.rule,
        code_description=CodeDescription(lesson) if (lesson := lesson_uri(finding.rule)) else None,
        source="railbond",
        tags=[DiagnosticTag.Unnecessary] if finding.rule in IDLE else None,
        related_information=list(_related(finding, plan, places)) or None,
    )


def message(finding: Finding) -> str:
    """What a finding says by itself, and what is dangerous about mending it."""
    happens = "" if finding.happens == "on paper" else f"{finding.happens}: "
    setting = f"\nwhen {finding.setting}" if finding.setting else ""
    care = "".join(f"\ntake care: {text}" for text in finding.cautions)
    return harmless(f"{happens}{finding.message}{setting}{care}")


def _related(finding: Finding, plan: OpenPlan, places: Places) -> Iterator[DiagnosticRelatedInformation]:
    for step in finding.reason:
        if step.at and step.at.path in plan.inspection.sources:
            source = plan.source(step.at.path)
            yield DiagnosticRelatedInformation(places.location(source, step.at), harmless(step.text))
