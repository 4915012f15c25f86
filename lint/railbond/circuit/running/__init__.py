"""What wheels meet: where track is dead under an engine, where a wheel bridges rails, and which way trains can run.

Places along track are whole micrometres, so that sums and differences of them are exact.
"""

from __future__ import annotations

METRE = 1_000_000


def micrometres(metres: float) -> int:
    """A length in whole micrometres."""
    return round(metres * METRE)


def measure(micrometres: float) -> str:
    """`0`, `12.9 mm`, `21.3 cm`, `2.4 m`."""
    if not micrometres:
        return "0"
    if micrometres < 100_000:
        return f"{round(micrometres / 1_000, 1):g} mm"
    if micrometres < 1_000_000:
        return f"{round(micrometres / 10_000, 1):g} cm"
    return f"{round(micrometres / 1_000_000, 2):g} m"
