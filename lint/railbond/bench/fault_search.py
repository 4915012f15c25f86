"""A search step by step: what was seen, what explains it, what to try next, and when there is an end."""

from __future__ import annotations

from typing import NamedTuple

from railbond.circuit.facts import Facts

from .components import FullSetting
from .diagnosis import Cause, Diagnosis, contradictions
from .information import Chooser, Next
from .likelihood import often
from .mistake import Mistake
from .observation import Observation, Resolver
from .prediction import NOTHING
from .removable import OFF, what_is_off

CONFIRMED = 1
"""Readings that are taken at most to make sure of what was found."""


class NextMove(NamedTuple):
    """`fitting` are the explanations that leave out the least. Next comes `following`, or `again`: a reading that is to
    be taken once more because all else fits together without it. Where neither comes, that is the `end`: `sound`,
    `found`, or `alike` where no measurement tells what is left apart."""

    fitting: tuple[Cause, ...]
    following: Next | None
    again: Observation | None
    end: str = ""


class FaultSearch:
    """One search on one plan. `doubles` weighs two mistakes at once even where one explains all."""

    def __init__(self, facts: Facts, doubles: bool = False, diagnosis: Diagnosis | None = None) -> None:
        """`diagnosis` is that of another search on the same plan."""
        self.diagnosis, self.doubles = diagnosis or Diagnosis(facts), doubles
        self.resolver = Resolver(facts, self.diagnosis.points, self.diagnosis.screws)
        self.observed: list[Observation] = []
        self.mended: list[Mistake] = []
        """What was found and put right; what was observed before that counts no more."""
        self.recheck: list[Observation] = []
        self.confirmed = 0
        self.chooser = Chooser(self.diagnosis, usual_settings(facts))

    @property
    def off(self) -> list[str]:
        """What is off as things stand."""
        return what_is_off(self.observed[-1].stand) if self.observed else []

    def step(self) -> NextMove:
        """What is known now, and what to do next."""
        observed = settled(self.observed)
        if self.recheck:
            return NextMove((), None, self.recheck[0])
        causes = self.diagnosis.causes(observed, self.doubles)
        fitting = tuple(one for one in causes if one.misses == causes[0].misses)
        again = self._again(observed, causes)
        if again:
            return NextMove(fitting, None, again)
        following = self.chooser.best(causes, observed)
        if following is None and _end(fitting) == "found":
            following = self._confirming(fitting[0].mistake, observed)
        return NextMove(fitting, following, None, "" if following else _end(fitting))

    def _confirming(self, found: Mistake, observed: list[Observation]) -> Next | None:
        """A probe that tells what was found from what would explain everything but one reading, lest that was taken
        wrongly. It is asked until no such rival is left, and so often at most."""
        if self.confirmed >= CONFIRMED:
            return None
        readings = [one for one in observed if one.kind == "beeps"]
        rivals = [one for one in self.diagnosis.nearly(observed) if one is not found and one is not NOTHING]
        rivals = [one for one in rivals if any(self.diagnosis.answer(one, seen) != seen.answer for seen in readings)]
        total = sum(often(one.kind) for one in rivals)
        causes = [Cause(found, 0, 1.0), *(Cause(one, 0, often(one.kind) / total) for one in rivals)]
        following = self.chooser.best(causes, observed) if rivals else None
        self.confirmed += following is not None
        return following

    def mend(self, step: NextMove) -> None:
        """Goes on after what was found was put right and everything put back: what was wrong is looked at again."""
        self.mended += [one.mistake for one in step.fitting]
        plan = self.diagnosis.answer
        self.recheck = [one for one in settled(self.observed) if one.answer != plan(NOTHING, one)][:1]
        self.recheck = [one._replace(stand=without_off(one.stand)) for one in self.recheck]
        self.observed, self.confirmed = [], 0

    def see(self, seen: Observation) -> None:
        """Notes something that was seen; after `mended`, what was seen before counts no more."""
        if seen.kind == "mended":
            self.observed, self.confirmed = [], 0
        else:
            self.observed.append(seen)

    def answer(self, step: NextMove, beeps: bool) -> None:
        """Notes what the meter did at what was asked for; of what was seen otherwise, whether it is still so."""
        if step.again:
            answer = beeps if step.again.kind == "beeps" else step.again.answer == beeps
            self.observed.append(step.again._replace(answer=answer, text=f"{step.again.text} (again)", at=None))
            self.recheck = self.recheck[1:]
        elif step.following:
            ends = step.following.one, step.following.other
            text = "beeps as asked" if beeps else "silent as asked"
            self.observed.append(Observation("beeps", beeps, dict(step.following.stand), ends, text=text))

    def _again(self, observed: list[Observation], causes: list[Cause]) -> Observation | None:
        """A reading that contradicts others, or that alone keeps one mistake from explaining everything."""
        against = [one for one, _ in contradictions(observed) if not self._repeated(one)]
        if against or len(observed) < 2:
            return against[0] if against else None
        if not any(one.misses or one.mistake.both for one in causes[:1]):
            return None
        for cause in self.diagnosis.nearly(observed):
            (missed,) = (one for one in observed if self.diagnosis.answer(cause, one) != one.answer)
            if missed.kind == "beeps" and not self._repeated(missed):
                return missed
        return None

    def _repeated(self, asked: Observation) -> bool:
        return sum(one.question == asked.question for one in self.observed) > 1


def _end(fitting: tuple[Cause, ...]) -> str:
    if any(one.mistake is NOTHING for one in fitting):
        return "unexplained" if fitting[0].misses else "sound"
    return "found" if len(fitting) == 1 else "alike"


def settled(observed: list[Observation]) -> list[Observation]:
    """Of a question that was asked more than once, the last answer counts."""
    last = {one.question: one for one in observed}
    return [one for one in observed if last[one.question] is one]


def without_off(stand: FullSetting) -> dict[str, str]:
    """A setting with everything on."""
    return {switch: at for switch, at in stand.items() if not switch.startswith(OFF)}


def usual_settings(facts: Facts) -> list[FullSetting]:
    """Every set of points in its first position, in its second, and so on: all positions there are."""
    positions = facts.graph.positions
    most = max(map(len, positions.values()), default=1)
    return [{switch: at[min(place, len(at) - 1)] for switch, at in positions.items()} for place in range(most)]
