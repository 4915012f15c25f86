"""Findings in one line each: for a quick look, and as annotations that code hosts show beside the changed lines."""

from __future__ import annotations

import os

from railbond.findings import Finding, Level
from railbond.saying import printable

from .places import Sources, point_at

ANNOTATED: dict[Level, str] = {"error": "error", "warning": "warning", "note": "notice"}


def brief(finding: Finding, sources: Sources) -> str:
    """`file:line:column: level: what happens: message (rule name)`, as the GNU Coding Standards have it."""
    return f"{point_at(finding.at, sources)}: {finding.level}: {_said(finding)} (rule {finding.rule})"


def annotation(finding: Finding, sources: Sources) -> str:
    """The finding as a workflow command, `::error file=…,line=…::message`, of the open form that runners of code hosts
    read from a job's output. Its columns count as those of `brief` do, the last one included."""
    source = sources[finding.at.path]
    line, column = source.line_column(finding.at.start)
    last, past = source.line_column(max(finding.at.end, finding.at.start))
    place = {"file": finding.at.path.replace(os.sep, "/"), "line": line, "endLine": last, "col": column}
    if last == line and past > column:
        place["endColumn"] = past - 1
    told = ",".join(f"{key}={_property(str(value))}" for key, value in {**place, "title": finding.rule}.items())
    return f"::{ANNOTATED[finding.level]} {told}::{_data(_said(finding))}"


def _said(finding: Finding) -> str:
    happens = "" if finding.happens == "on paper" else f"{finding.happens}: "
    setting = f" (when {finding.setting})" if finding.setting else ""
    return printable(f"{happens}{finding.message}{setting}")


def _data(text: str) -> str:
    return text.replace("%", "%25").replace("\r", "%0D").replace("\n", "%0A")


def _property(text: str) -> str:
    return _data(printable(text)).replace(":", "%3A").replace(",", "%2C")
