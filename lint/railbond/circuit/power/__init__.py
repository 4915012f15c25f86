"""Wires and rails as resistors: what a short draws anywhere, and what a train's load costs in volts."""
