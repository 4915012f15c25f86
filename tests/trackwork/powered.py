"""Random plans with tables, toggles, cabs, common rails and contacts: well formed and electrically anything."""

from __future__ import annotations

from random import Random

from hypothesis import strategies as st

SUPPLIES = """\
booster B1 15 V 5 A
booster B2 15 V 5 A
district main from B1
district hill from B2
reverser R1 in main
cab c1 12 V 1 A
cab c2 12 V 1 A
block d1 in c1
block b1 in c1 or c2
block b2 in main or c1
"""
COMMONS = ("common black of main hill", "common black of c1 c2", "common red of c1 d1", "common black of c1 main")
TURNOUT = "turnout T1 left dead-frog\nbond T1 closure rails to stock rails"
TURNTABLE = "turntable TT 30 cm"
TRANSFER = "transfer-table TB 30 cm"


def random_powered(rng: Random) -> str:
    return _Plan(rng).text()


def powered_plans() -> st.SearchStrategy[str]:
    return st.builds(random_powered, st.randoms(use_true_random=False))


class _Plan:
    def __init__(self, rng: Random) -> None:
        self.rng = rng
        self.lines = [SUPPLIES.rstrip()]
        self.ends: list[str] = []
        self.contacts: list[str] = []
        self.clashing = rng.random() < 0.3
        self.calm = rng.choice(("main", "main", "c1", "b1", "b2", "R1"))
        for lay in rng.sample((self._turnout, self._turntable, self._transfer), rng.randint(1, 2)):
            lay()
        if rng.random() < 0.4:
            self.lines.append(rng.choice(COMMONS[:3] if not self.clashing else COMMONS))

    def text(self) -> str:
        self.rng.shuffle(self.ends)
        while len(self.ends) > 1 and self.rng.random() < 0.5:
            self._segment(self.ends.pop(), self.ends.pop())
        for end in self.ends:
            self._segment(end, "stop")
        return "\n".join(self.lines) + "\n"

    def _turnout(self) -> None:
        self.lines.append(TURNOUT)
        self.ends += ["T1.points", "T1.through", "T1.diverging"]
        self.contacts += ["T1 through", "T1 diverging"]

    def _turntable(self) -> None:
        angles = self.rng.sample((0, 40, 100, 180, 220), self.rng.randint(1, 3))
        self.lines.append(TURNTABLE)
        for number, angle in enumerate(angles):
            self.lines.append(f"approach-track TT.k{number} at {angle} degrees")
            self.ends.append(f"TT.k{number}")
        self.contacts.append("TT k0")
        ring = self.rng.choice(("", "  split at 70 degrees", "  crossed  split at 130 degrees"))
        self.lines.append(f"feeder {self._supply()} -> TT.bridge{ring}")

    def _transfer(self) -> None:
        self.lines.append(TRANSFER)
        for name, place in self.rng.sample((("n1", "10 cm"), ("n2", "20 cm"), ("f1", "10 cm"), ("f2", "30 cm")), 3):
            self.lines.append(f"approach-track TB.{name} at {place}{'  far-side' * (name[0] == 'f')}")
            self.ends.append(f"TB.{name}")
        self.contacts.append(f"TB {self.ends[-1][3:]}")
        self.lines.append(f"feeder {self._supply()} -> TB.bridge{self.rng.choice(('', '  crossed'))}")

    def _segment(self, one: str, other: str) -> None:
        """A segment cut in the middle: what comes to its two ends seldom belongs together."""
        name = f"s{len(self.lines)}"
        self.lines.append(f"segment {name} {one} -> {other} 1 m")
        rails = "both rails" if not self.clashing else self.rng.choice(("both rails", "left rail", "right rail"))
        self.lines.append(f"gap {name} at 50 cm {rails}")
        for place in (20, 80):
            if self.rng.random() < 0.7:
                crossed = self.rng.choice(("", "", "", "  crossed"))
                through = f"  through contacts of {self.rng.choice(self.contacts)}" if self.rng.random() < 0.3 else ""
                self.lines.append(f"feeder {self._supply()} -> {name} at {place} cm{crossed}{through}")

    def _supply(self) -> str:
        if self.rng.random() < (0.5 if self.clashing else 0.9):
            return self.calm
        return self.rng.choice(("main", "hill", "R1", "c1", "c2", "d1", "b1", "b2"))
