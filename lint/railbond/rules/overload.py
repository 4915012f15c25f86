"""More engines than the districts can feed: while they run, and in the moment when power comes on."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.findings import Fix, Found, Step
from railbond.layout.limits import limit
from trackplan.amend import set_word
from trackplan.edit import Edit
from trackplan.record import NamedTuple
from trackplan.statements import Booster, District

from .rule import Rule


class Feed(NamedTuple):
    """A booster, its districts, and the amperes that they may give together."""

    booster: Booster
    districts: list[District]

    @property
    def most(self) -> float:
        """The sum of the breakers, as far as the booster can give it."""
        return min(float(self.booster.current), sum(self.trips(one) for one in self.districts))

    def trips(self, district: District) -> float:
        return float(district.trips or self.booster.current)


def feeds(facts: Facts) -> list[Feed]:
    """The boosters that feed a district."""
    found: dict[str, Feed] = {}
    for supply in facts.layout.supplies.values():
        booster = facts.layout.boosters.get(supply.booster or "")
        if booster and isinstance(supply.statement, District):
            found.setdefault(supply.booster or "", Feed(booster, [])).districts.append(supply.statement)
    return list(found.values())


def find_overload(facts: Facts) -> Iterator[Found]:
    """The plan's engines together against all that its districts may give: engines go where track goes."""
    drawn = sum(float(engine.current) for engine in facts.layout.engines)
    given = feeds(facts)
    if given and drawn > sum(feed.most for feed in given):
        yield _finding(facts, OVERLOADED, given, drawn, "draw", tuple(_stronger(given, drawn)))


def find_power_on(facts: Facts) -> Iterator[Found]:
    """The same for the moment when power comes on and every decoder fills its capacitors, where the plan tells how
    much one takes."""
    each = limit(facts.layout, "power-on")
    given = feeds(facts)
    drawn = (each or 0.0) * len(facts.layout.engines)
    if given and drawn > sum(feed.most for feed in given):
        from railbond.fixes.power_fixes import accepted

        near = given[0].districts[0]
        words = "switch the districts, or the engines, on one after the other"
        fix = accepted(facts, POWER_ON.name, near.name, near, words, "they are switched on one after the other")
        yield _finding(facts, POWER_ON, given, drawn, "take at power-on", (fix,))


def _finding(facts: Facts, rule: Rule, given: list[Feed], drawn: float, what: str, fixes: tuple[Fix, ...]) -> Found:
    from railbond.fixes.power_words import amperes

    districts = [one for feed in given for one in feed.districts]
    most = sum(feed.most for feed in given)
    names = " and ".join(str(one.name) for one in districts)
    steps = [Step(engine.at, f"{engine.name} draws {engine.current.text}") for engine in facts.layout.engines]
    if rule is POWER_ON:
        told = facts.layout.limits["power-on"]
        steps = [Step(told.at, f"{len(steps)} engines at {told.value.text} each, all at once: an assumption")]
    for feed in given:
        steps.append(Step(feed.booster.at, f"{feed.booster.name} and its breakers may give {amperes(feed.most)}"))
    return Found(
        districts[0].at,
        f"the plan's engines together {what} {amperes(drawn)}, and {names} may give {amperes(most)}"
        f"{'' if len(districts) == 1 else ' together'}.",
        tuple(steps), "", fixes, tuple(dict.fromkeys(str(one.name) for one in districts)),
    )  # fmt: skip


def _stronger(given: list[Feed], drawn: float) -> Iterator[Fix]:
    """A breaker set higher, or a booster that gives enough, where there is but one."""
    from railbond.fixes.power_fixes import trip_at

    if len(given) != 1 or len(given[0].districts) != 1:
        return
    booster, (district,) = given[0]
    enough = -(-drawn * 2 // 1) / 2
    edits: tuple[Edit, ...] = (trip_at(district, enough),) if district.trips else ()
    if enough > booster.current:
        edits += (set_word(booster, booster.current, f"{enough:g} A"),)
        words = f"use a booster that gives {enough:g} A, or part the track into two districts with a booster each"
    else:
        words = f"set the breaker of {district.name} to {enough:g} A"
    yield Fix(words, edits, plain=False, changes="a short is then fed with more current before the breaker opens")


_PLAN = """\
plan      "Full house"
booster   B1    15 V  3 A
district  main  from B1
segment   line  stop -> stop  1.5 m
feeder    main -> line
engine    mallet  left 0 31 62 mm  right 0 31 62 mm  {each}
engine    consol  left 0 31 62 mm  right 0 31 62 mm  {each}
engine    mikado  left 0 31 62 mm  right 0 31 62 mm  {each}
{more}"""

OVERLOADED = Rule(
    name="district-overloaded",
    level="warning",
    happens="stall",
    turn=20,
    cause=False,
    find=find_overload,
    when="engines for all a breaker gives",
    summary="The plan's engines together draw more than its districts may give.",
    railroad="With all engines running the breaker opens, and everything stops; it closes again and opens again.",
    meter="Read the booster's ampere meter while every engine pulls its train.",
    mend="Fewer engines at a time, another district with its own booster, or a stronger booster.",
    fails=_PLAN.format(each="1.2 A", more=""),
    passes=_PLAN.format(each="0.8 A", more=""),
)
POWER_ON = Rule(
    name="power-on-trips",
    level="warning",
    happens="stall",
    turn=20,
    cause=False,
    find=find_power_on,
    when="decoders for all a breaker gives",
    summary="At power-on all decoders together take more than the breakers let through.",
    railroad=(
        "Engines' capacitors are empty after a short or in the morning, and fill all at once: the breaker takes them "
        "for a short, opens, and may never come up again. The limit `power-on` says what one engine is taken for; that "
        "all are on the rails and fill at the same moment is an assumption."
    ),
    meter="Take engines off the rails until the breaker stays closed at power-on: those that are left it can bear.",
    mend="Switch districts on one after the other, take engines off, or use decoders that fill slowly.",
    fails=_PLAN.format(each="0.4 A", more="limit     power-on  1.5 A\n"),
    passes=_PLAN.format(each="0.4 A", more="limit     power-on  0.8 A\n"),
)
RULES = (OVERLOADED, POWER_ON)
