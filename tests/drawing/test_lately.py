"""What was worked out a moment ago is kept, and no more of it than is said."""

from __future__ import annotations

from railbond.faces.drawing.lately import Lately


def test_it_keeps_what_was_asked_for_lately_and_no_more() -> None:
    lately = Lately[int, str](10)
    lately.put(-1, "used")
    for number in range(1000):
        lately.put(number, str(number))
        assert lately.get(-1) == "used"
    assert lately.get(999) == "999"
    assert lately.get(995) == "995"
    assert sum(lately.get(number) is not None for number in range(1000)) <= 20
