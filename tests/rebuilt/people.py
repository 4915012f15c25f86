"""Twenty plans of ten kinds, as people write them, on which mistakes are looked for."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

from bench.readings import facts_at
from railbond.bench.diagnosis import Diagnosis
from railbond.bench.fault_search import FaultSearch

TESTS = Path(__file__).parents[1]
KINDS = {
    "ovals": ("passing_siding", "first_oval"),
    "double track": ("crossover", "double_track_two_boosters"),
    "yards": ("yard_ladder", "freight_yard"),
    "wyes": ("wye", "turning_wye"),
    "loops": ("balloon_loop", "twin_loops"),
    "tables": ("engine_terminal", "roundhouse"),
    "throats": ("station_throat", "lakeside_throat"),
    "crossings": ("quarry_crossing", "figure_eight"),
    "blocks": ("detected_block", "detected_main"),
    "cabs": ("hand_throttle_branch", "two_cab_branch"),
}  # fmt: skip
"""Of each kind an example plan and one of the corpus."""


def path(name: str) -> Path:
    example = TESTS.parent / "example_plans" / f"{name}.trackplan"
    return example if example.exists() else TESTS / "corpus" / "plans" / name / "plan.trackplan"


@lru_cache
def diagnosis_of(name: str) -> Diagnosis:
    return Diagnosis(facts_at(str(path(name))))


def searches() -> list[FaultSearch]:
    """A search on each plan."""
    every = [diagnosis_of(name) for names in KINDS.values() for name in names]
    return [FaultSearch(one.facts, diagnosis=one) for one in every]
