"""Meets: module plans that are read together, coupled as one, and inspected alone and as a whole."""
