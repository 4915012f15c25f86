"""Findings as SARIF 2.1.0 (OASIS, errata 01): for code hosts, editors and other programs."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from railbond import __version__
from railbond.files import Trouble
from railbond.findings import Finding, Fix, Step
from railbond.inspection import Remark
from railbond.rules.rule import Rule
from trackplan.edit import fits, resolve
from trackplan.span import Source, Span

from .locations import FINGERPRINT, Locations, fingerprints
from .places import Sources, said

SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"

Object = dict[str, Any]
Files = dict[str, tuple[Source, Object]]


def written(
    findings: Sequence[Finding], sources: Sources, rules: Sequence[Rule], troubles: Sequence[Trouble] = (),
    remarks: Sequence[Remark] = (), top: str | None = None,
) -> str:  # fmt: skip
    """The whole log as JSON, in ASCII, so that no terminal or pipe can spoil it."""
    import json

    return json.dumps(log(findings, sources, rules, troubles, remarks, top), indent=1)


def log(
    findings: Iterable[Finding], sources: Sources, rules: Sequence[Rule], troubles: Sequence[Trouble] = (),
    remarks: Sequence[Remark] = (), top: str | None = None,
) -> Object:  # fmt: skip
    """The whole log as plain data. Columns count Unicode code points. A remark is a plan's path and what could not be
    looked at in it. With `top`, the folder of the repository, all that lies below it is told from there on, so that
    the log means the same wherever it is read."""
    order = {rule.name: index for index, rule in enumerate(rules)}
    where = Locations(top)
    places = [where.location(path) for path in sources]
    pairs = zip(sources.items(), places, strict=True)
    files = {path: (source, {**place, "index": at}) for at, ((path, source), place) in enumerate(pairs)}
    findings = list(findings)
    run = {
        "tool": {"driver": _driver(rules)},
        "invocations": [_invocation(troubles, remarks, where)],
        **where.bases(),
        "artifacts": [{"location": place, "mimeType": "text/plain"} for place in places],
        "columnKind": "unicodeCodePoints",
        "newlineSequences": ["\r\n", "\n", "\r"],
        "defaultEncoding": "UTF-8",
        "results": [
            {**_result(finding, files, order), "partialFingerprints": {FINGERPRINT: mark}}
            for finding, mark in zip(findings, fingerprints(findings, sources, where), strict=True)
        ],
    }
    return {"$schema": SCHEMA, "version": "2.1.0", "runs": [run]}


def _driver(rules: Iterable[Rule]) -> Object:
    return {
        "name": "railbond",
        "version": __version__,
        "semanticVersion": __version__,
        "rules": [_descriptor(rule) for rule in rules],
    }


def _descriptor(rule: Rule) -> Object:
    help_parts = (rule.railroad, rule.test, rule.mend, *rule.cautions)
    return {
        "id": rule.name,
        "shortDescription": {"text": rule.summary},
        "fullDescription": {"text": rule.railroad},
        "help": {"text": "\n\n".join(part for part in help_parts if part)},
        "defaultConfiguration": {"level": rule.level},
        "properties": {"tags": [rule.happens]},
    }


def _invocation(troubles: Sequence[Trouble], remarks: Iterable[Remark], where: Locations) -> Object:
    notes = [_notification("error", where.location(one.path), one.message, one.line) for one in troubles]
    notes += [_notification("note", where.location(path), text) for path, text in remarks]
    return {"executionSuccessful": not troubles, "toolExecutionNotifications": notes}


def _notification(level: str, location: Object, text: str, line: int | None = None) -> Object:
    physical: Object = {"artifactLocation": location}
    if line:
        physical["region"] = {"startLine": line}
    return {"level": level, "message": {"text": text}, "locations": [{"physicalLocation": physical}]}


def _result(finding: Finding, files: Files, order: dict[str, int]) -> Object:
    setting = f"\nSetting: {finding.setting}." if finding.setting else ""
    care = "".join(f"\nTake care: {text}" for text in finding.cautions)
    result: Object = {
        "ruleId": finding.rule,
        "level": finding.level,
        "message": {"text": finding.message + setting + care},
        "locations": [{"physicalLocation": _physical(finding.at, files)}],
        "properties": {"happens": finding.happens, "names": list(finding.names), "setting": dict(finding.positions)},
    }
    if finding.rule in order:
        result["ruleIndex"] = order[finding.rule]
    if finding.reason:
        result["relatedLocations"] = [_related(*one, files) for one in enumerate(finding.reason, 1)]
    sources = {path: source for path, (source, _) in files.items()}
    if fixes := [_fix(fix, files) for fix in finding.fixes if fix.edits and fits(fix.edits, sources)]:
        result["fixes"] = fixes
    return result


def _related(number: int, step: Step, files: Files) -> Object:
    location: Object = {"id": number, "message": {"text": step.text}}
    if step.at:
        location["physicalLocation"] = _physical(step.at, files)
    return location


def _physical(at: Span, files: Files) -> Object:
    source, artifact = files[at.path]
    return {"artifactLocation": artifact, "region": region(source, at.start, at.end)}


def _fix(fix: Fix, files: Files) -> Object:
    paths = dict.fromkeys(edit.at.path for edit in fix.edits)
    return {
        "description": {"text": said(fix)},
        "artifactChanges": [_artifact_change(fix, *files[path]) for path in paths],
    }


def _artifact_change(fix: Fix, source: Source, artifact: Object) -> Object:
    parts = dict.fromkeys(resolve(source, edit) for edit in fix.edits if edit.at.path == source.path)
    replacements = [
        {"deletedRegion": region(source, start, end), "insertedContent": {"text": text}}
        for start, end, text in sorted(parts, key=lambda part: part[:2])
    ]
    return {"artifactLocation": artifact, "replacements": replacements}


def region(source: Source, start: int, end: int) -> Object:
    """The region between two offsets; its end column is the first one past it."""
    (first, column), (last, past) = _place(source, start), _place(source, end)
    return {"startLine": first, "startColumn": column, "endLine": last, "endColumn": past}


def _place(source: Source, offset: int) -> tuple[int, int]:
    """Line and column. SARIF knows no line after the last line end: such a file ends in its last line."""
    line, column = source.line_column(offset)
    if column == 1 and line > 1 and offset == len(source.text):
        return line - 1, offset - source.starts[line - 2] + 1
    return line, column
