"""Reads wiring plans of model railroads and proves them sound in every setting of the turnouts."""

__version__ = "0.1.0"
