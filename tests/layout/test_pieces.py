"""What is made of a template maker's answers, with a maker of three lines."""

from __future__ import annotations

from railbond.layout.build import build
from railbond.layout.model import Layout
from railbond.layout.pieces import SegmentCut
from railbond.layout.template import End, Impossible, Metal, Template
from trackplan.read import read
from trackplan.span import Source
from trackplan.statements import Segment, Statement, Turnout

PLAIN = Template(
    (Metal("left rail"), Metal("right rail")), (), (),
    {"start": End(1, 0, leaves=False), "finish": End(0, 1, leaves=True)},
)  # fmt: skip


class Maker:
    """Makes the same two rails of everything, writes down what it was asked and refuses what it is told to."""

    def __init__(self, refused: type | None = None) -> None:
        self.refused = refused
        self.asked: list[tuple[str, tuple[Statement, ...], tuple[SegmentCut, ...]]] = []

    def __call__(self, statement: Statement, work: tuple[Statement, ...], cuts: tuple[SegmentCut, ...]) -> Template:
        assert isinstance(statement, Segment | Turnout)
        if self.refused and (isinstance(statement, self.refused) or any(isinstance(one, self.refused) for one in work)):
            raise Impossible("metal does not do that")
        self.asked.append((str(statement.name), work, cuts))
        return PLAIN


def made(text: str, maker: Maker) -> Layout:
    return build(read(Source("plan", text)).statements, maker)


def test_a_segments_cuts_come_sorted_with_both_rails_apart() -> None:
    maker = Maker()
    made("gap a at 60 cm both rails\ngap a at 1 ft right rail\nsegment a stop -> stop 1 m\n", maker)
    assert maker.asked == [("a", (), ((0.3048, "right"), (0.6, "left"), (0.6, "right")))]


def test_a_turnout_is_asked_for_with_its_work_in_the_plans_order() -> None:
    maker = Maker()
    made("cut T frog rails\nturnout T left live-frog\nbond T closure rails to stock rails\n", maker)
    assert [(name, [type(one).__name__ for one in work]) for name, work, _ in maker.asked] == [
        ("T", ["Cut", "ClosureBond"])
    ]


def test_a_piece_that_cannot_be_built_is_told_and_left_out() -> None:
    plan = made("turnout T left live-frog\nsegment a T.points -> stop 1 m\nfrog T automatic P1\n", Maker(Turnout))
    assert [fault.message for fault in plan.faults if fault.at.start == 0] == ["metal does not do that"]
    assert list(plan.pieces) == ["a"] and plan.meetings == []


def test_a_segment_that_cannot_be_built_takes_its_neighbors_ends_with_it() -> None:
    plan = made("segment a J -> stop 1 m\ngap a at 20 cm left rail\nfeeder P1 -> a\n", Maker(Segment))
    assert [fault.message for fault in plan.faults][0] == "metal does not do that"
    assert plan.drops == [] and plan.pieces == {}
