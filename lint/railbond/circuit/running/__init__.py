"""What wheels meet: where track is dead under an engine, where a wheel bridges rails, and which way trains can run.

Places along track are whole micrometres, so that sums and differences of them are exact.
"""

from __future__ import annotations

METRE = 1_000_000


def micrometres(metres: float) -> int:
    """A length in whole micrometres."""
    return round(metres * METRE)
