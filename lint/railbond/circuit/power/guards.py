"""What stands before each supply: the booster's volts, the breaker's trip current, and the load that may run."""

from __future__ import annotations

from railbond.layout.limits import limit
from railbond.layout.model import Layout, Supply
from trackplan.quantities import Current
from trackplan.record import NamedTuple
from trackplan.span import Span
from trackplan.statements import Booster, Cab, District, Reverser


class Guard(NamedTuple):
    """A supply with what guards it.

    `booster` gives it its volts: a cab, where it is analog. `trips` is the current at which its district's breaker
    (or, where it has none of its own, the booster) opens, and `at` the line that says so. `passes` is what it lets
    through for as long as it is asked to: a reverser's own trip, where that is less.
    """

    supply: Supply
    booster: Booster | Cab
    breaker: str
    trips: Current
    passes: Current
    at: Span

    @property
    def volts(self) -> float:
        return float(self.booster.voltage)

    @property
    def output(self) -> float:
        return float(getattr(self.booster, "resistance", None) or 0.0)

    def short(self, ohms: float) -> float:
        """Amperes of a short behind a loop of that many ohms."""
        total = ohms + self.output
        return self.volts / total if total else float("inf")

    def needed(self, layout: Layout) -> float:
        """Amperes that a short must draw to open the breaker for certain: its trip current and the margin."""
        return float(self.trips) * (1 + (limit(layout, "trip-margin") or 0.0))

    def most_ohms(self, layout: Layout) -> float:
        """The loop through which a short still draws as much."""
        return self.volts / self.needed(layout) - self.output


def guards(layout: Layout) -> dict[str, Guard]:
    """The guard of each supply that has a booster or a cab, by the supply's name."""
    found = {}
    for name, supply in layout.supplies.items():
        district = layout.supplies.get(supply.district or name, supply)
        cab = district.statement if isinstance(district.statement, Cab) else None
        booster = cab or layout.boosters.get(supply.booster or "")
        if booster:
            found[name] = _guard(supply, district, booster)
    return found


def _guard(supply: Supply, district: Supply, booster: Booster | Cab) -> Guard:
    statement = district.statement
    trips = statement.trips if isinstance(statement, District) else None
    breaker, at = (district.name, statement.at) if trips else (str(booster.name), booster.at)
    trips = trips or booster.current
    own = supply.statement.trips if isinstance(supply.statement, Reverser) else None
    return Guard(supply, booster, breaker, trips, min(own or trips, trips), at)


def running_load(layout: Layout) -> float | None:
    """Amperes that run at one place at the worst: as the plan limits it, else all its engines; None where it tells
    neither."""
    told = limit(layout, "running-load")
    if told is None and layout.engines:
        return sum(float(engine.current) for engine in layout.engines)
    return told
