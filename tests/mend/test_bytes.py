"""What no mend changes stays as it is, byte for byte: line ends, tabs, comments, odd letters, the order of lines."""

from __future__ import annotations

from difflib import SequenceMatcher, unified_diff
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from oracle.faults import Fault
from oracle.plans import faulty_plans
from railbond.mend.difference import changed_lines, line_edits, unified, whole_lines
from railbond.mend.overlay import Overlay
from railbond.mend.rounds import mend
from railbond.rules import all_rules
from trackplan.edit import apply
from trackplan.span import Source

EVERY = tuple(rule.name for rule in all_rules())
REMARKS = ("", "", "  # Gleis für Züge", "\t# трек №7 \U0001f682", " #", "   # \u2028 not a line end")


def dressed(text: str, newline: str, tabs: bool, dice: Random) -> str:
    """The same plan as somebody else would type it."""
    lines = [line + dice.choice(REMARKS) for line in text.split("\n")]
    lines = [line.replace("  ", "\t") if tabs and '"' not in line else line for line in lines]
    return newline.join(["\ufeff# club plan" if dice.random() < 0.2 else "# club plan", *lines])


@given(faulty_plans(max_turnouts=4), st.sampled_from(["\n", "\r\n"]), st.booleans(), st.randoms(use_true_random=False))
def test_what_is_not_mended_stays(plans: tuple[str, str, list[Fault]], newline: str, tabs: bool, dice: Random) -> None:
    text = dressed(plans[1], newline, tabs, dice)
    overlay = Overlay(["plan"], {"plan": text}.__getitem__)
    done = mend(overlay, EVERY)
    new = overlay.open_text("plan")
    old_lines, new_lines = text.split(newline), new.split(newline)
    kept = sum(
        block.size for block in SequenceMatcher(None, old_lines, new_lines, autojunk=False).get_matching_blocks()
    )
    touched = sum(max(len(fix.edits), 1) for _, fix in done.made)
    assert len(old_lines) - kept <= touched
    assert new.count("\r\n") == (new.count("\n") if newline == "\r\n" else 0)
    assert [line[line.index("#") :] for line in new_lines if "#" in line] == [
        line[line.index("#") :] for line in old_lines if "#" in line
    ]


TEXTS = st.lists(st.sampled_from(["a\n", "b\n", "\x0b\n", "c\n", "\u2028d\n", "\n"]), max_size=8).map("".join)


@given(TEXTS, TEXTS, st.booleans(), st.sampled_from(["\n", "\r\n"]))
def test_the_edits_between_two_texts_lead_from_one_to_the_other(
    one: str, other: str, open_end: bool, newline: str
) -> None:
    other += "end" if open_end else ""
    one, other = (text.replace("\n", newline) for text in (f"first\n{one}", f"first\n{other}"))
    source = Source("p", one)
    assert apply(source, line_edits(source, other)) == other
    assert bool(changed_lines(source, other)) == (one != other)
    assert "".join(whole_lines(source)) == one


def test_a_unified_diff_says_where_a_file_has_no_last_line_end() -> None:
    shown = "".join(unified(Source("p", "a\nb"), "a\nc"))
    assert shown.endswith("-b\n\\ No newline at end of file\n+c\n\\ No newline at end of file\n")


@pytest.mark.parametrize(("one", "other"), [("a\nb\n", "c\n"), ("a", "b"), ("a\r\nb", "a \r\nb \r\nc"), ("a\n", "")])
def test_a_unified_diff_of_texts_without_a_line_in_common_is_the_usual_one(one: str, other: str) -> None:
    usual = "".join(unified_diff(one.splitlines(True), other.splitlines(True), "a/p", "b/p"))
    assert "".join(unified(Source("p", one), other)).replace("\n\\ No newline at end of file\n", "") == usual
