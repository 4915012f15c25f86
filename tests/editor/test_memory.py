"""A day of typing does not grow: what the store holds of a plan goes when the plan has changed."""

from __future__ import annotations

import gc
from itertools import pairwise

from editor.documents import YARD, Documents
from trackplan.read import forget

KEYS = 40


def objects_after(documents: Documents, keys: range) -> int:
    """Things that are alive once so many keys have been typed, and each was answered; lines that were read are kept up
    to a number, and left out."""
    for key in keys:
        documents.put("yard", YARD.replace("3 m", f"{3 + key} m").replace("# ", f"# {key} "))
        view = documents.view
        assert view.plan.inspection.sources and view.plan.facts.proof
    forget()
    gc.collect()
    return len(gc.get_objects())


def test_typing_leaves_nothing_behind() -> None:
    """What other tests have left to be filled once, such as a cache, may grow in one stretch; a leak grows in each."""
    documents = Documents(yard=YARD)
    alive = [objects_after(documents, range(start * KEYS, (start + 2) * KEYS)) for start in range(0, 8, 2)]
    grown = [later - before for before, later in pairwise(alive)]
    assert min(grown) < KEYS, f"less than one thing for every other key: {grown}"
