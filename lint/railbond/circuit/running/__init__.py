"""What wheels meet: where track is dead under an engine, where a wheel bridges rails, and which way trains can run.

Places along track are whole micrometers, so that sums and differences of them are exact.
"""

from __future__ import annotations

METER = 1_000_000


def micrometers(meters: float) -> int:
    """A length in whole micrometers."""
    return round(meters * METER)


def measure(micrometers: float) -> str:
    """`0`, `12.9 mm`, `21.3 cm`, `2.4 m`."""
    if not micrometers:
        return "0"
    if micrometers < 100_000:
        return f"{round(micrometers / 1_000, 1):g} mm"
    if micrometers < 1_000_000:
        return f"{round(micrometers / 10_000, 1):g} cm"
    return f"{round(micrometers / 1_000_000, 2):g} m"
