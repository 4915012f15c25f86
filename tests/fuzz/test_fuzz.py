"""A little of the fuzzing, always of the same texts; `python tests/fuzz` tries as many others as you like."""

from __future__ import annotations

from collections import Counter
from pathlib import Path
from random import Random
from typing import get_args

import pytest

from fuzz.pairs import KINDS, in_two_orders, pair
from fuzz.running import LONGEST, Failure, Kept, TooLong, at_most, run, tried
from fuzz.targets import TARGETS
from fuzz.texts import FEW, LONG, SEEDS, anything, size
from fuzz.trying import TRYING
from trackplan.read import read
from trackplan.span import Source
from trackplan.statements import Statement

SHUFFLED = Path(__file__).with_name("shuffled")

FIRST = 1
EACH, PAIRS, KILLS = 12, 4, 5
STATEMENTS = set(get_args(Statement))


@pytest.fixture
def kept(tmp_path: Path) -> Kept:
    return Kept(tmp_path / "found")


def failed(name: str, number: int, kept: Kept) -> str:
    """What failed of so many seeds."""
    run(name, TRYING[name], range(FIRST, FIRST + number), kept)
    return "\n".join(path.read_text() for path in kept.folder.glob(f"{name}-*"))


@pytest.mark.parametrize("name", TARGETS)
def test_nothing_breaks(name: str, kept: Kept) -> None:
    assert not failed(name, EACH, kept)


@pytest.mark.parametrize("kind", KINDS)
def test_a_plan_said_in_two_ways_has_the_same_findings(kind: str) -> None:
    for seed in range(FIRST, FIRST + PAIRS):
        failure = pair(kind, seed)
        assert failure is None, f"{failure.what}\nseed {seed}:\n{failure.text}"


@pytest.mark.parametrize("name", sorted(path.stem for path in SHUFFLED.glob("*.one")))
def test_an_order_of_lines_that_mattered_once_does_no_more(name: str) -> None:
    """Kept as texts: what a seed stands for hangs on all plans of the tree, of which such texts are made."""
    one, other = in_two_orders(*((SHUFFLED / f"{name}.{way}").read_text(encoding="utf-8") for way in ("one", "other")))
    assert one == other, (one - other, other - one)


@pytest.mark.parametrize(("kind", "seed"), [("reverse", 788), ("join", 5009)])
def test_a_pair_that_was_unequal_once_is_not_any_more(kind: str, seed: int) -> None:
    failure = pair(kind, seed)
    assert failure is None, failure.what


def test_a_program_that_is_killed_loses_nothing(kept: Kept) -> None:
    assert not failed("kills", KILLS, kept)


def test_short_texts_are_of_every_kind() -> None:
    texts = [(size(Random(seed)), anything(Random(seed))) for seed in range(1_200)]
    found = {type(one) for _, text in texts for one in read(Source("p", text)).statements}
    assert found >= STATEMENTS
    sizes = Counter(of for of, _ in texts)
    assert sizes["few"] > sizes["some"] > sizes["whole"] > sizes["long"] > 0
    assert sum(text.count("\n") <= 2 * FEW for of, text in texts if of == "few") > 0.9 * sizes["few"]
    assert max(text.count("\n") for of, text in texts if of == "long") >= LONG - 2


def test_a_run_that_is_broken_off_goes_on_where_it_was(kept: Kept) -> None:
    seen = list[int]()

    def work(seed: int) -> Failure | None:
        if seed == 5 and seed not in seen:
            seen.append(seed)
            raise KeyboardInterrupt
        seen.append(seed)
        return Failure("odd", seed, "text", "what\nfails") if seed % 2 else None

    with pytest.raises(KeyboardInterrupt):
        run("odd", work, range(10), kept)
    kept.so_far("odd", kept.tallies["odd"], now=True)
    again = Kept(kept.folder)
    tally = run("odd", work, range(10), again)
    assert seen == [0, 1, 2, 3, 4, 5, 5, 6, 7, 8, 9]
    assert (tally.tried, tally.failed) == (10, 5) and again.kinds == {("odd", "fails"): 5}
    assert run("odd", work, range(10), Kept(kept.folder)) == tally and len(seen) == 11


KEPT = {path.stem: path.read_text(encoding="utf-8") for path in sorted(SEEDS.glob("*.trackplan"))}


@pytest.mark.parametrize("seed", KEPT)
@pytest.mark.parametrize(
    "name",
    [
        "inspection",
        "tidy",
        "sarif",
        "draw",
        "server codeAction",
        "schedule",
        "meter",
        "diagnose",
        "wiring",
        "live page",
    ],
)
def test_what_was_found_once_stays_mended(name: str, seed: str) -> None:
    failure = tried(name, TARGETS[name], KEPT[seed], 0)
    assert failure is None, failure.what


def test_what_takes_too_long_is_ended_and_told() -> None:
    def forever(text: str, dice: object) -> None:
        while True:
            try:
                sum(range(1000))
            except Exception:
                continue

    failure = tried("forever", forever, "", 0, longest=0.05)
    assert failure and "TooLong" in failure.kind
    with at_most(LONGEST):
        pass
    with pytest.raises(TooLong), at_most(0.01):
        forever("", None)
