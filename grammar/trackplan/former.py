"""Words that the language had before: still read in the place of their new ones, and told by the rule outdated-word."""

from __future__ import annotations

FORMER = {"keep-alive": "capacitor", "tie": "joined"}
