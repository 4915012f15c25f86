"""Fixes are tried on the plan in memory before they are offered, and made, in rounds, where they are asked for."""
