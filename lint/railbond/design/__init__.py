"""From bare track to a wiring: districts, sections, cuts, frogs, drops and bus runs, as lines with their reasons."""
