"""How many random plans to try: a handful unless `HYPOTHESIS_PROFILE=thorough` asks for thousands."""

from __future__ import annotations

import os
from tempfile import TemporaryDirectory

from hypothesis import HealthCheck, settings

for name, examples in (("quick", 60), ("thorough", 3000)):
    settings.register_profile(
        name,
        max_examples=examples,
        deadline=None,
        derandomize="CI" in os.environ,
        suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
    )
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "quick"))

KEPT = TemporaryDirectory(prefix="railbond-tests-")
os.environ["XDG_CACHE_HOME"] = KEPT.name  # no test reads or fills the cache of whoever runs it
