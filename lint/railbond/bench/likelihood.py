"""How often each mistake is made, one beside the other, and what each step of a search costs: judgments, not counts.

Common practice: a pair swapped and a cold joint are what is found most; a wire on the wrong supply hardly ever.
"""

from __future__ import annotations

OFTEN = {
    "swapped pair": 8, "missing drop": 6, "frog contacts swapped": 6, "contacts backwards": 5, "cut not made": 5,
    "jumper not cut": 4, "jumpers not cut": 4, "bond forgotten": 4, "bonds forgotten": 3, "jumper missing": 3,
    "drop on the wrong rail": 3, "drop on the wrong leg": 3, "missing frog wire": 3, "missing contact wire": 3,
    "swapped bus": 3, "missing bus wire": 3, "contact wire on the wrong leg": 2, "cut on the wrong rail": 2,
    "missing common wire": 2, "missing toggle's wire": 2, "pair on the wrong supply": 2, "none": 4, "two": 1,
}  # fmt: skip
"""Whatever is not told here is made once for eight swapped pairs."""

COSTS = {
    "beep": (1.0, "two leads and one reading"),
    "place": (0.3, "a walk to where something is taken off or put back"),
    "wire": (0.1, "a wire off its screw, or back on it"),
    "throw": (0.1, "a set of points thrown"),
    "joiner": (6.0, "a rail lifted and an insulated joiner slid in, or taken out again"),
}
"""What each step of a search costs, a reading being 1, and what it is."""


def often(kind: str) -> float:
    """The weight of a mistake before anything is seen."""
    return float(OFTEN.get(kind, 1))
