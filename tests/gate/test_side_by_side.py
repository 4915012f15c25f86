"""What is said of a plan whose rules two processes ask at once is what one process says, for the same effort."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from contextlib import redirect_stdout
from io import StringIO
from pathlib import Path
from random import Random

import pytest

from oracle.plans import big_layout, random_sound, random_wild, seed_faults
from railbond.batch import at_hand, side_by_side
from railbond.circuit.effort import spent
from railbond.circuit.facts import Facts
from railbond.command import main
from railbond.rules.rule import Askable
from trackplan.read import forget

can_fork = pytest.mark.skipif(sys.platform != "linux", reason="only where a process is born with another's memory")

THIN = big_layout(12).replace("14 AWG", "28 AWG")  # resistance has something to say, too
PLANS = [random_wild(Random(number), 4) for number in range(6)] + [
    random_sound(Random(1), 4), big_layout(20), THIN, seed_faults(big_layout(20), 3, Random(1))[0],
]  # fmt: skip


@pytest.fixture
def two(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(os, "cpu_count", lambda: 2)
    monkeypatch.setattr(side_by_side, "LARGE", 0)


def told(plan: Path) -> tuple[int, str, float]:
    """What `inspect` says, and the effort that it took. As a large plan, though it is not."""
    forget()
    before, out = spent(), StringIO()
    with redirect_stdout(out):
        status = main(["inspect", "--no-cache", str(plan)])
    return status, out.getvalue(), round(spent() - before, 3)


def inspected(folder: Path, text: str) -> tuple[int, str, float]:
    (folder / "p.trackplan").write_text(text)
    return told(folder / "p.trackplan")


@pytest.fixture(autouse=True)
def by_batch(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("railbond.commands.inspect.LARGE", 0)


@can_fork
@pytest.mark.parametrize("number", range(len(PLANS)))
def test_two_say_what_one_says(number: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    alone = inspected(tmp_path, PLANS[number])
    asked = noted(monkeypatch)
    monkeypatch.setattr(os, "cpu_count", lambda: 2)
    monkeypatch.setattr(side_by_side, "LARGE", 0)
    assert inspected(tmp_path, PLANS[number]) == alone
    assert len(asked) > 5


def noted(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The rules that were taken over from the other process."""
    names: list[str] = []
    take = side_by_side.take_as_known

    def taking(asked: Askable, *rest: object) -> None:
        names.append(asked.name)
        take(asked, *rest)  # type: ignore[arg-type]

    monkeypatch.setattr(side_by_side, "take_as_known", taking)
    return names


@can_fork
@pytest.mark.usefixtures("two")
def test_what_another_process_did_not_tell_is_asked_here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """It was ended from outside, as one is when memory is short; or there is none to be had."""
    right = inspected(tmp_path, THIN)
    assert "(rule wire-too-thin)" in right[1]

    def ended(facts: Facts, rules: Sequence[Askable], there: object) -> None:
        os._exit(9)

    monkeypatch.setattr(side_by_side, "_tell", ended)
    names = noted(monkeypatch)
    assert inspected(tmp_path, THIN) == right and not names

    def none_left() -> int:
        raise BlockingIOError(11, "no more processes")

    monkeypatch.setattr(os, "fork", none_left)
    assert inspected(tmp_path, THIN) == right and not names


@can_fork
def test_a_small_plan_and_one_core_ask_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(os, "cpu_count", lambda: 2)
    assert at_hand.for_plan("segment a stop -> stop 1 m\n") is None
    assert at_hand.for_plan("#" * (side_by_side.LARGE + 1)) is not None
    monkeypatch.setattr(os, "cpu_count", lambda: 1)
    assert at_hand.for_plan("#" * (side_by_side.LARGE + 1)) is None
