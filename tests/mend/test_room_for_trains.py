"""That no place of a track holds a train is only said where none does: against every set of up to three cut joints.

The other search cuts joints, feeds what lies between from a reverser, and asks the oracle, which walks all settings,
whether anything still turns or is joined. It knows nothing of chains, halves or bounds.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from random import Random

import networkx as nx
import pytest

from mend.likeness import statements
from mend.test_sections import BALLOON, CUT_OFF, HEAD, LOOP_IN_LOOP, WYE, facts
from oracle.brute import Brute
from oracle.plan_model import model
from oracle.reversing import reverses
from railbond.fixes.room_for_trains import holds_nowhere
from railbond.inspection import inspect
from trackplan.gather import gather
from trackplan.statements import Segment

SHAPES = {"balloon": BALLOON, "wye": WYE.format(tail="1 m"), "cut-off": CUT_OFF, "loop in loop": LOOP_IN_LOOP}
MOST_CUTS = 3
NONE = "no place of this track holds it (all were tried)"


def bare(text: str) -> str:
    return "".join(line for line in text.splitlines(keepends=True) if not line.startswith("feeder"))


def held(text: str) -> Iterator[float]:
    """Meters of the longest segment within each section that cures the track."""
    plan = bare(text).replace(HEAD, f"{HEAD}reverser R9  in main\n")
    lengths = {str(one.name): float(one.length) for one in statements(plan) if isinstance(one, Segment)}
    meetings = [(one.one, one.other) for one in facts(text).layout.meetings]
    for count in range(1, MOST_CUTS + 1):
        for cut in combinations(meetings, count):
            graph = nx.Graph()
            graph.add_nodes_from(lengths)
            graph.add_edges_from((one.piece, other.piece) for one, other in meetings if (one, other) not in cut)
            gaps = "".join(
                f"gap {next(e for e in pair if e.end not in ('start', 'finish'))}  both rails\n" for pair in cut
            )
            for inside in map(set, nx.connected_components(graph)):
                wires = "".join(f"feeder {'R9' if one in inside else 'main'} -> {one}\n" for one in lengths)
                if cures(f"{plan}{gaps}{wires}"):
                    yield max((lengths[one] for one in inside & lengths.keys()), default=0.0)


def cures(text: str) -> bool:
    brute = Brute(model(statements(text)))
    return not brute.ever_districts_joined and not reverses(brute)


def with_a_train(text: str, meters: float) -> str:
    return f"{text}train  longest  {meters:g} m\n"


@pytest.mark.parametrize("shape", SHAPES)
def test_what_holds_a_train_is_never_denied(shape: str) -> None:
    rng = Random(shape)
    text = SHAPES[shape]
    for line in statements(text):
        if isinstance(line, Segment):
            new = f"{rng.randrange(5, 50) / 10:g} m"
            text = text.replace(f"{line.start} -> {line.finish}", f"{line.start} -> {line.finish}  #", 1)
            text = "".join(
                f"{row.partition('#')[0]}{new}\n" if "#" in row else row for row in text.splitlines(keepends=True)
            )
    longest = max(held(text))
    assert longest > 0
    assert not holds_nowhere(facts(with_a_train(text, longest)))


@pytest.mark.parametrize(("text", "longest"), [(BALLOON, 5.0), (WYE.format(tail="1 m"), 8.6), (CUT_OFF, 11.1)])
def test_a_train_longer_than_any_way(text: str, longest: float) -> None:
    """By hand: what can be driven of the track without anything twice. A wye: its longest way is over two of its ends
    and the side between them, 3 m + 2.5 m + 3 m."""
    assert holds_nowhere(facts(with_a_train(text, longest)))
    assert not holds_nowhere(facts(with_a_train(text, longest - 0.2)))


def test_large_track_is_not_known() -> None:
    """A yard of ten tracks hangs on the balloon: too many sets to try. Beside it, and not joined, it does not count."""
    ends = "segment end Y10.through -> stop 1 m\nsegment far Y10.diverging -> stop 1 m\n"
    yard = "".join(yard_track(number) for number in range(10)) + f"turnout Y10 left number 6 dead-frog\n{ends}"
    assert holds_nowhere(facts(with_a_train(f"{BALLOON}segment lead0 stop -> Y0.points 1 m\n{yard}", 90.0)))
    joined = BALLOON.replace("stop -> T1.points", "Y0.points -> T1.points")
    assert not holds_nowhere(facts(with_a_train(joined + yard, 90.0)))


def yard_track(number: int) -> str:
    return (
        f"turnout  Y{number} left number 6 dead-frog\n"
        f"segment lead{number + 1} Y{number}.through -> Y{number + 1}.points 1 m\n"
        f"segment yard{number} Y{number}.diverging -> stop 1 m\n"
    )


def test_it_is_said_in_words_where_it_is_so() -> None:
    for longest, is_said in ((8.6, True), (3.2, False)):
        text = with_a_train(WYE.format(tail="1 m"), longest)
        found = inspect(gather("plan.trackplan", lambda _, text=text: text)).findings
        words = [fix.words for one in found for fix in one.fixes if "It is shorter than longest" in fix.words]
        assert words
        assert all((NONE in one) == is_said for one in words)
