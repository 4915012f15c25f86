"""One spelling, that of the United States: in what users read, in names and in comments."""

from __future__ import annotations

import re

from house.files import texts

BRITISH = re.compile(
    r"(?<!aria-)(?:(?:[ck]ent|k?il|mill?|micr)[io]?metre|\bmetres?\b|_metres?\b|colour|neighbour|behaviour|favour|honour"
    r"|judgement|spelt|learnt|towards|labelled|labelling|centred|\bcentres?\b|\bgrey|licen[c]e|catalogue|aluminium"
    r"|(?:organ|recogn|real|optim|minim|maxim|normal|initial|general)is(?:e|ed|es|ing|ation)\b|analyse)",
    re.IGNORECASE,
)
"""As they are spelled elsewhere. `cancelled` is both, and what asyncio and the protocol of editors say."""
KEPT = {"grammar/trackplan/mistakes/numbers.py", "tests/house/test_spelling.py", "tests/house/unnamed.txt"}
"""The first knows units as people type them."""


def test_one_spelling() -> None:
    found = [
        f"{path}:{number}: {one[0]}"
        for path, text in texts()
        if path not in KEPT
        for number, line in enumerate(text.splitlines(), 1)
        for one in BRITISH.finditer(line)
    ]
    assert not found


def test_what_is_spelled_elsewhere_is_seen() -> None:
    words = ["colours", "12 metres", "rail_metres", "centimetre", "neighbouring", "grey", "Judgement", "minimised"]
    assert all(BRITISH.search(word) for word in words)
    assert not BRITISH.search("aria-labelledby diameter parameter colors")
