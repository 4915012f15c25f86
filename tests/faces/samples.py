"""A plan, and findings about it made by hand, for the tests of all faces."""

from __future__ import annotations

from railbond.findings import Finding, Fix, Step
from railbond.rules.rule import Rule
from trackplan.edit import add_line, replace
from trackplan.span import Source, Span

PLAN = """\
segment  west    stop -> T1.points  90 cm
turnout  T1      left  number 6  live-frog
segment  middle  T1.through -> stop  2.4 m
segment  siding  T1.diverging -> stop  2.4 m
feeder   P1 -> west    at 20 cm
feeder   P1 -> siding  at 30 cm
"""


def span(part: str, path: str = "quarry.trackplan", text: str = PLAN) -> Span:
    """Where `part` first stands in the plan."""
    start = text.index(part)
    return Span(path, start, start + len(part))


def source(text: str = PLAN, path: str = "quarry.trackplan") -> dict[str, Source]:
    return {path: Source(path, text)}


SIDING = span("segment  siding  T1.diverging -> stop  2.4 m")

SHORT = Finding(
    rule="frog-rail-gap-missing",
    level="error",
    happens="short",
    at=SIDING,
    message="red and black of P1 meet through the frog of T1",
    why=(
        Step(span("feeder   P1 -> siding  at 30 cm"), "P1 puts red on the left rail of siding"),
        Step(SIDING, "siding meets T1, and neither rail is cut there"),
        Step(span("turnout  T1"), "the frog rail is one piece with the frog"),
        Step(None, "a wheel needs no help for this"),
    ),
    setting="T1 through",
    fixes=(
        Fix(
            "cut the frog rail of T1 beyond the frog on the diverging side",
            (add_line(SIDING, "gap T1.diverging frog rail"),),
        ),
        Fix(
            "buy a turnout whose frog is dead",
            (replace(span("live-frog"), "dead-frog"),),
            False,
            "T1 is another one then",
        ),
    ),
    names=("T1", "siding"),
)

NAMELESS = Finding("unknown-name", "warning", "on paper", span("P1"), "there is no supply named P1")


def rule(name: str, **parts: str) -> Rule:
    """A rule that finds nothing and says of itself what `parts` say."""
    texts = {part: f"the {part} of {name}" for part in ("summary", "railroad", "meter", "mend", "fails", "passes")}
    return Rule(
        **{"name": name, "level": "error", "happens": "short", "turn": 1, "cause": True, **texts, **parts},
        find=lambda facts: (),
    )  # type: ignore[arg-type]
