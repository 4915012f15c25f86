"""What is found, and the slip that explains it, does not hang on which file a line stands in."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from railbond.doorway import enter
from railbond.explaining.catalog import cuts_within
from railbond.explaining.idle import parts_nothing_within
from railbond.inspection import Inspection, inspect
from trackplan.gather import gather

EXAMPLES = Path(__file__).parents[2] / "example_plans"
WHOLE = re.compile(r"^(include|module|couple)\b", re.MULTILINE)
"""Lines that say themselves which file is what."""
PLANS = [path for path in sorted((EXAMPLES / "faulty").glob("*.trackplan")) if not WHOLE.search(path.read_text())]
CUT_WITHIN = """\
booster B1 15 V 5 A
district main from B1 trips 4 A
block yard in main
segment line stop -> stop 2 m
gap line at 1 m right rail
feeder main -> line at 20 cm
feeder yard crossed -> line at 180 cm
"""


def told(**texts: str) -> Inspection:
    def opened(path: str) -> str:
        if path in texts:
            return texts[path]
        raise FileNotFoundError(path)

    return inspect(gather("plan", opened))


def said(inspection: Inspection) -> list[tuple[str, str, tuple[str, ...]]]:
    found = ((one.rule, one.message, tuple(fix.words for fix in one.fixes)) for one in inspection.findings)
    return sorted(found)


@pytest.mark.parametrize("path", PLANS, ids=lambda path: path.stem)
@pytest.mark.parametrize("share", [0.4, 0.75])
def test_a_plan_in_two_files_has_the_faults_of_the_whole(path: Path, share: float) -> None:
    """Its first lines stand in a file that it includes, as many clubs have their supplies in one."""
    lines = path.read_text(encoding="utf-8").splitlines(keepends=True)
    cut = next(at for at in range(int(len(lines) * share), len(lines)) if not lines[at][0].isspace())
    apart = told(plan='include "shared"\n' + "".join(lines[cut:]), shared="".join(lines[:cut]))
    if any(one.rule == "syntax" for one in apart.findings):
        pytest.skip("lines that cannot be read are told by what stands around them in their file")
    assert {rule for rule, _, _ in said(apart)} == {rule for rule, _, _ in said(told(plan="".join(lines)))}


def test_a_cut_within_track_that_is_told_in_another_file() -> None:
    lines = CUT_WITHIN.splitlines(keepends=True)
    whole = told(plan=CUT_WITHIN)
    parts = {"plan": 'include "shared"\n' + "".join(lines[4:]), "shared": "".join(lines[:4])}
    assert any(one.level == "error" for one in whole.findings) and said(told(**parts)) == said(whole)
    facts = enter("plan", parts.__getitem__).facts
    (gap,) = cuts_within(facts, facts.layout.pieces["line"])
    assert not parts_nothing_within(facts, gap)
