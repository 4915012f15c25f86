"""The lines that cut rails at a seam, by the name that the plan has for the place."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from railbond.circuit.facts import Facts
from railbond.circuit.signed_graph import Seam
from railbond.fixes.fix_edits import BOTH, seam_edits


def cuts(facts: Facts, seam: Seam, rails: Iterable[int]) -> Iterator[str]:
    """Cuts for the left (0) and right (1) rail, as `gap A  both rails` where a joint has a name."""
    name = seam.meeting.name.rpartition(".")[2] if seam.meeting else ""
    for edit in seam_edits(facts, seam, rails):
        yield f"gap {name}  {BOTH}" if name and edit.text.endswith(BOTH) else edit.text


def between(seam: Seam) -> str:
    """`between T1 and west`; `within west`."""
    one, other = seam.one[0].rpartition(".")[2], seam.other[0].rpartition(".")[2]
    return f"within {one}" if one == other else f"between {one} and {other}"
