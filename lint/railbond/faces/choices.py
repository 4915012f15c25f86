"""Which build each turnout may have, as text."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.running import measure
from railbond.circuit.running.answers import Running
from railbond.circuit.running.bridges import clearance
from railbond.circuit.running.choosing import BuildChoice, choose
from railbond.circuit.running.standards import ASSUMED_SCALE, MICROMETERS_PER_INCH, blade_clearance

HEAD = ("turnout", "now", "frog dead for", "may be", "because")


def told(run: Running) -> str:
    """The table of turnouts, and the clearances that the standards leave."""
    choices = choose(run.ground, run.engines)
    if not choices:
        return "The plan has no turnouts."
    rows = [HEAD, *(_row(run, one) for one in choices)]
    widths = [max(len(row[column]) for row in rows) for column in range(len(HEAD))]
    table = ["  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip() for row in rows]
    return "\n".join([*table, "", *_clearances(run, choices)])


def _row(run: Running, one: BuildChoice) -> tuple[str, ...]:
    size = run.track.size(one.piece)
    now = run.facts.layout.pieces[one.piece].template.shape.build
    dead = measure(one.dead) if size.told else f"about {measure(one.dead)}"
    if one.stall is None:
        return one.piece, now, dead, "dead or fed", f"{one.engine.name} bridges {measure(one.engine.bridges)}"
    with_others = sorted(one.stall.dead - {one.piece})
    also = f" with {' and '.join(with_others)} dead too" if with_others else ""
    return one.piece, now, dead, "fed only", f"{one.engine.name} would stall for {measure(one.stall.length)}{also}"


def _clearances(run: Running, choices: list[BuildChoice]) -> Iterator[str]:
    if any(not run.track.size(one.piece).told for one in choices):
        yield "Lengths with `about` are estimates from the frog's number; `dead 22 mm` on a turnout's line says better."
    scale = run.facts.layout.scale
    named = scale or f"no scale said, {ASSUMED_SCALE} taken"
    tightest = min(choices, key=lambda one: _rails(run, one))
    margin = _rails(run, tightest)
    wheel = f"a wheel of code {run.wheel.code}" if run.wheel.code else "a usual wheel"
    what = f"stays {measure(margin)} clear of" if margin >= 0 else f"reaches {measure(-margin)} over the head of"
    yield f"At the frog rails of {tightest.piece} {wheel} {what} the other rail where they begin ({named})."
    blade = blade_clearance(scale)
    if blade is not None:
        yield (
            f"At an open blade the standards leave the back of a wheel {blade * MICROMETERS_PER_INCH / 1000:.2f} mm "
            f"({blade:.3f} in): wheels out of gauge touch it."
        )


def _rails(run: Running, one: BuildChoice) -> int:
    return clearance(run.track.size(one.piece), run.wheel, run.track.code(one.piece))
