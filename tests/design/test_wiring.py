"""Plans wired from bare track, and from half of their wiring: held by the inspection that any plan gets."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from random import Random

import pytest

from corpus.reading import PLANS
from design.stripping import bare, thinned
from design.tracks import KINDS, random_track
from railbond.design.bill import cost
from railbond.design.wire import UNCLEAR, WiredPlan, wire
from railbond.design.wishes import WiringWishes, costs_of
from railbond.inspection import inspect
from trackplan.gather import gather
from trackplan.read import read
from trackplan.span import Source

EXAMPLES = sorted((Path(__file__).parents[2] / "example_plans").glob("*.trackplan"))
LAYOUTS = [path for path in EXAMPLES if "\nsegment" in path.read_text()]
OTHERS = [one / "plan.trackplan" for one in sorted(PLANS.iterdir()) if (one / "plan.trackplan").exists()]


def opener(path: str, text: str) -> Callable[[str], str]:
    return lambda one: text if one == path else Path(one).read_text(encoding="utf-8")


def wired(path: str, text: str, wishes: WiringWishes = WiringWishes()) -> WiredPlan:  # noqa: B008
    """A plan wired, with what must hold of any: nothing of its own is changed, and it says truly what is left."""
    plan = wire(path, opener(path, text), wishes)
    lines = iter(plan.text.splitlines())
    assert all(line in lines for line in text.splitlines()), "a line of the plan's own is changed"
    found = inspect(gather(path, opener(path, plan.text))).findings
    assert [one.rule for one in found if one.level != "note"] == [one.rule for one in plan.left]
    return plan


@pytest.mark.parametrize("path", LAYOUTS, ids=lambda path: path.stem)
def test_an_example_stripped_of_its_wiring_is_wired_no_dearer_than_by_hand(path: Path) -> None:
    whole, text = path.read_text(), bare(path.read_text())
    plan = wired(str(path), text)
    assert not plan.left
    facts = gather(str(path), opener(str(path), whole)), gather(str(path), opener(str(path), text))
    costs = costs_of(inspected_layout(whole, str(path)))
    by_hand, stripped = (cost(one.statements, costs) for one in facts)
    assert plan.bound.least <= plan.cost <= by_hand - stripped


def inspected_layout(text: str, path: str):  # type: ignore[no-untyped-def]
    from railbond.circuit.facts import Facts

    gathered = gather(path, opener(path, text))
    return Facts(gathered.statements, gathered.sources).layout


@pytest.mark.parametrize("path", [*LAYOUTS, *OTHERS], ids=lambda path: f"{path.parent.stem}-{path.stem}")
def test_half_of_a_wiring_is_made_whole(path: Path) -> None:
    text = thinned(str(path), path.read_text(), lambda one: Path(one).read_text(), Random(7))
    plan = wired(str(path), text)
    known = {one.rule for one in inspect(gather(str(path), lambda one: Path(one).read_text())).findings}
    assert {one.rule for one in plan.left} <= known | {"set-against"}


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("seed", [1, 2])
def test_track_of_every_kind_is_wired(kind: str, seed: int) -> None:
    assert not wired("plan", random_track(Random(seed), kind)).left


@pytest.mark.parametrize("path", LAYOUTS[:6], ids=lambda path: path.stem)
def test_a_second_run_writes_nothing(path: Path) -> None:
    once = wired(str(path), bare(path.read_text()))
    twice = wired(str(path), once.text)
    assert twice.text == once.text and not twice.lines


@pytest.mark.parametrize("kind", ["oval", "wye", "dog_bone", "throat"])
def test_no_line_is_superfluous(kind: str) -> None:
    plan = wired("plan", random_track(Random(3), kind))
    before = rules(plan.text)
    for line in plan.lines:
        lines = plan.text.splitlines(keepends=True)
        gone = next(one for one in lines if one.split() == line.text.split())
        lines.remove(gone)
        assert rules("".join(lines)) != before, line.text


def rules(text: str) -> list[str]:
    found = inspect(gather("plan", {"plan": text}.__getitem__)).findings
    return sorted(f"{one.rule} {one.names}" for one in found)


FOLDED = """\
plan     "Two loops, double track between them, a crossover in its middle"
segment  loopw  WM -> WR              3 m
segment  loope  ER -> EM              3 m
segment  wb1    WR -> X1.points       2 m
turnout  X1     left  number 6        isolated-frog
segment  wb2    X1.through -> ER      2 m
segment  eb1    EM -> X2.points       2 m
turnout  X2     left  number 6        isolated-frog
segment  eb2    X2.through -> WM      2 m
segment  xo     X1.diverging -> X2.diverging  20 cm
train    longest  2 m
"""


def test_a_section_goes_over_a_turnout_where_no_stretch_is_as_long_as_the_train() -> None:
    """The one stretch whose section would do is the crossover, 20 cm for a train of 2 m."""
    plan = wired("plan", FOLDED)
    assert not plan.left
    assert sum(line.kind == "reverser" for line in plan.lines) == 1
    assert sum(line.kind == "gap" for line in plan.lines) == 3


CROSSOVER = FOLDED.replace("isolated-frog", "live-frog").replace(
    "segment  xo     X1.diverging -> X2.diverging  20 cm", "joint    X1.diverging -> X2.diverging"
)


def test_one_reverser_does_where_no_single_stretch_would() -> None:
    """The crossover's own joint holds no train, and a section of each track beside it would need two reversers."""
    plan = wired("plan", CROSSOVER)
    assert not plan.left
    assert sum(line.kind == "reverser" for line in plan.lines) == 1


SIDING = """\
plan     "Siding"
booster  B1    15 V  5 A
segment  west  stop -> T1.points        60 cm
turnout  T1    left  number 6  live-frog
segment  main  T1.through -> stop       1 m
segment  team  T1.diverging -> stop     1 m
"""


def test_a_choice_is_kept() -> None:
    units = wired("plan", SIDING, WiringWishes(frogs="units", wire="mm2", drops="every-piece"))
    kinds = [line.text.split()[:3] for line in units.lines]
    assert ["frog", "T1", "automatic"] in kinds
    assert {line.about for line in units.lines if line.kind == "feeder"} == {"west", "main", "team"}
    assert all("mm2" in line.text for line in units.lines if line.kind in ("bus", "feeder"))
    assert not units.left


@pytest.mark.parametrize(("rebuild", "cut"), [("cuts", "around frog"), ("bonds", "closure jumpers")])
def test_what_may_be_rebuilt_is_rebuilt(rebuild: str, cut: str) -> None:
    plan = wired("plan", SIDING, WiringWishes(rebuild=rebuild))  # type: ignore[arg-type]
    assert f"cut T1  {cut}" in [line.text for line in plan.lines]


def test_where_nothing_may_be_rebuilt_the_rest_is_told() -> None:
    plan = wired("plan", SIDING, WiringWishes(rebuild="nothing"))
    assert plan.left and not [line for line in plan.lines if line.kind in ("cut", "bond")]


def test_a_plan_sets_its_own_costs() -> None:
    dear = wired("plan", SIDING + "limit drop-cost 10\n")
    assert dear.cost - wired("plan", SIDING).cost == pytest.approx(9 * 2 * sum(o.kind == "feeder" for o in dear.lines))


def test_a_line_that_stands_in_the_way_is_left_and_told() -> None:
    text = SIDING + "district power from B1\nfeeder power -> west\nfeeder power -> main crossed\n"
    plan = wired("plan", text)
    assert "legs-joined" in [one.rule for one in plan.left]


def test_every_line_has_its_reason() -> None:
    plan = wired("plan", random_track(Random(5), "dog_bone"))
    assert all(line.why for line in plan.lines)
    gap = next(line for line in plan.lines if line.kind == "gap")
    assert "R1" in gap.why and "m for a train of" in gap.why


def test_new_lines_stand_below_their_kind_and_comments_stay() -> None:
    text = SIDING.replace("segment  west", "# the line\nsegment  west")
    lines = wired("plan", text).text.splitlines()
    assert lines.index("# the line") > next(n for n, line in enumerate(lines) if line.startswith("bus"))
    assert [one for one in lines if one.startswith("#")] == ["# the line", "# turnouts", "# drops"]
    assert not read(Source("plan", "\n".join(lines))).broken


@pytest.mark.parametrize("line", ["segment  spur  stop -> stop  9000 m", "feeder   main ->", "district main  from B1"])
def test_nothing_is_written_while_it_is_not_clear_what_the_plan_says(line: str) -> None:
    """Nine kilometers would get drops by the thousand, a wire that does not read would be written twice, and nobody
    knows which `main` a feeder means."""
    plan = wired("plan", f"{SIDING}{line}\n")
    assert not plan.lines and set(UNCLEAR) & {one.rule for one in plan.left}


def test_a_module_is_fed_through_its_plug() -> None:
    """No booster is written for it, and no wire comes from nowhere."""
    text = random_track(Random(1), "module")
    plan = wired("plan", text)
    lines = [" ".join(line.text.split()) for line in plan.lines]
    assert not plan.left and any(line.startswith("bus plug -> P1") for line in lines)
    assert not any(line.startswith(("booster", "district")) for line in lines)


def test_a_meet_is_not_wired_but_its_modules_are(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    from railbond.command import main

    (tmp_path / "town.trackplan").write_text(SIDING)
    meet = tmp_path / "meet.trackplan"
    meet.write_text('plan "Meet"\nmodule town "town.trackplan"\n')
    assert main(["wire", str(meet)]) == 2
    assert "is a meet: its wires are those of its modules: wire town.trackplan" in capsys.readouterr().err
    assert meet.read_text() == 'plan "Meet"\nmodule town "town.trackplan"\n'
