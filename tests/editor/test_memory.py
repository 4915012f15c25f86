"""A day of typing does not grow: what the store holds of a plan goes when the plan has changed."""

from __future__ import annotations

import gc

from editor.documents import YARD, Documents
from trackplan.read import read_line

KEYS = 40


def objects_after(documents: Documents, keys: range) -> int:
    """Things that are alive once so many keys have been typed, and each was answered; lines that were read are kept up
    to a number, and left out."""
    for key in keys:
        documents.put("yard", YARD.replace("3 m", f"{3 + key} m").replace("# ", f"# {key} "))
        view = documents.view
        assert view.plan.inspection.sources and view.plan.facts.proof
    read_line.cache_clear()
    gc.collect()
    return len(gc.get_objects())


def test_typing_leaves_nothing_behind() -> None:
    documents = Documents(yard=YARD)
    settled = objects_after(documents, range(KEYS))
    later = objects_after(documents, range(KEYS, 3 * KEYS))
    assert later - settled < KEYS, "less than one thing for every other key"
