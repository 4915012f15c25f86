"""Text folded to a page's width, as the standard library's own `textwrap` folds it."""

from __future__ import annotations

from textwrap import wrap

from hypothesis import example, given
from hypothesis import strategies as st

from railbond.faces.folding import folded, paragraph

TEXTS = st.lists(st.sampled_from(["a", "frog", "closure-rail", "plans/long_name.trackplan:12:5", " ", "\t", "\n"])).map(
    lambda words: " ".join(words).strip()
)


@given(TEXTS, st.integers(8, 80), st.sampled_from(["", "do   ", "        "]), st.sampled_from(["", "     "]))
@example("", 40, "do   ", "     ")
@example("plans/long_name.trackplan:12:5 frog", 10, "do   ", "     ")
@example("a  frog", 7, "", "")
def test_as_the_standard_library_folds(text: str, width: int, first: str, rest: str) -> None:
    assert folded(text, width, first, rest) == wrap(
        text, width, initial_indent=first, subsequent_indent=rest, break_long_words=False, break_on_hyphens=False
    )


def test_a_paragraph_is_the_same_as_one_text() -> None:
    assert paragraph("the frog is dead", 8, "do ", "   ") == "do the\n   frog\n   is\n   dead"
